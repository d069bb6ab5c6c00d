// SPDX-License-Identifier: Apache-2.0
/// \file cell_registration.h
/// Where each cell of the arm truly lies in one frame, against where it was expected.
#pragma once

#include "tracking/body_template.h"
#include "view/single_axis_fit.h"

#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// One cell of the template in one frame.
struct CellShift {
  int cell = 0;
  Eigen::Vector2d body_px;      ///< information-weighted centre in body axes
  Eigen::Vector2d pixel;        ///< expected picture of that centre plus the measured shift
  Eigen::Matrix2d information;  ///< [px^-2], from the slopes and the cell's own misfit
  double noise_levels = 0.0;    ///< misfit that the shift and the light leave
  double side_px = 0.0;         ///< how much of the arm's side is seen beside its edges, mean
  double shade = 0.0;    ///< part by which the background beside it is lighter than known
  double weight = 0.0;   ///< part of its pixels that the template explains, 0..1
  bool centred = false;  ///< a dot, by dot_centre() and not by the template
};

/// How far a frame agrees with the arm where it is thought to be.
struct FrameAgreement {
  double residual_level = 0.0;  ///< robust standard deviation of the pixels' misfit
  double score = 0.0;           ///< part of the information that was believed, 0..1
};

/// What one frame says.
struct FrameRegistration {
  std::vector<CellShift> cells;
  FrameAgreement agreement;
};

struct RegistrationOptions {
  double exposure_s = 0.0;       ///< blur: the arm turns by omega * exposure during a frame
  double outlier_levels = 12.0;  ///< misfit at which a flat pixel's say is halved
  int stride = 1;                ///< every how many pixels; smoothed pictures repeat themselves
  double reach_px = 1.0;         ///< and this much shift of its slope beside it
  bool centre_dots = false;      ///< dots by their centres; for crops that are not softened
};

/// A frame and where the arm is thought to be in it. Keeps references.
struct FrameStart {
  const ArmCrop& crop;
  double theta_rad = 0.0;
  const SwingView& view;
  const cv::Mat& background;  ///< light, of the whole picture
};

/// One Gauss-Newton step of the layered picture against the frame, cell by cell: shift in x and
/// y, with the cell's own brightness gain and offset taken out (light changes as the arm
/// turns). The blur is the average over the directions passed during the exposure, so the
/// answer is the direction at mid-exposure. Mixing is done in light, comparing in levels.
FrameRegistration register_frame(const BodyTemplate& body,
                                 const FrameStart& start,
                                 const RegistrationOptions& options);

/// The agreement alone, for searches: no cell is solved.
FrameAgreement agreement_of_frame(const BodyTemplate& body,
                                  const FrameStart& start,
                                  const RegistrationOptions& options);

}  // namespace swingloss
