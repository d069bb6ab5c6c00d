// SPDX-License-Identifier: Apache-2.0
/// \file refine_stage.h
/// One pass of learning the arm's look, finding it in every frame, and fitting view and angles.
/// Internal to tracking.
#pragma once

#include "core/result.h"
#include "tracking/arm_crops.h"
#include "tracking/arm_tag.h"
#include "tracking/body_template.h"
#include "view/single_axis_fit.h"

#include <array>
#include <optional>
#include <vector>

namespace swingloss {

/// One pass of learn, register and fit.
struct Stage {
  double smooth_px;  ///< pictures are blurred by this: a start a few pixels off still pulls
  double outlier_levels, reach_px;
  bool tilt, depth;     ///< which parts of the view are free; the others stay as they start
  bool exposure, dots;  ///< look for the exposure before, for dots after
  bool restart;         ///< give frames that were drawn off a second chance
  bool mirror;          ///< try the tilt's other sign
};

/// The first stages: in soft pictures a start some pixels off is pulled in, then the tilt is
/// free.
inline constexpr std::array<Stage, 3> kSoftStages = {{
    {3.0, 40.0, 3.0, false, false, false, false, false, false},
    {3.0, 40.0, 3.0, true, false, false, false, false, false},
    {2.0, 20.0, 2.0, true, false, false, false, false, true},
}};

/// The refined arm.
struct RefinedArm {
  SingleAxisFit fit;  ///< theta, u, doubts: one entry a crop
  BodyTemplate body;
  std::optional<ArmTag> tag;  ///< read on the arm
  double exposure_s = 0.0;    ///< found from the blur, once exposure_known
  bool exposure_known = false;
  bool find_readout = true;             ///< else the readout stays as it starts
  double noise_levels = 0.0;            ///< typical misfit of a pixel
  std::vector<double> frame_score;      ///< 0..1 a crop: how far its pixels agree with the arm
  std::vector<double> pixel_limit_rad;  ///< a crop: see ArmTrack
};

/// The still background as light, smoothed like the crops of a stage.
[[nodiscard]] cv::Mat light_behind(const cv::Mat& background,
                                   double smooth_px,
                                   const CameraCurve& curve);

/// Learn, register, fit: once. \param arm  view, angles, look and tag to start from; gets what
/// was found \return nothing when done, else why not: "no-arm-texture" (nothing on it that
/// could be followed) or the failure of the fit
[[nodiscard]] std::optional<Failure> run_stage(const Stage& stage,
                                               const std::vector<ArmCrop>& crops,
                                               const cv::Mat& background,
                                               double focal_prior_px,
                                               RefinedArm& arm);

}  // namespace swingloss
