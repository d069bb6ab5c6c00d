// SPDX-License-Identifier: Apache-2.0
/// \file arm_crops.h
/// The part of each picture in which the arm lies.
#pragma once

#include "tracking/clip_survey.h"
#include "view/swing_view.h"

#include <vector>

namespace swingloss {

/// Extent of the body in its own axes [px at the axle]: down is +y.
struct BodyExtent {
  double ahead_px = 0.0, behind_px = 0.0, half_width_px = 0.0;
};

/// One frame's window.
struct ArmCrop {
  int frame = 0;
  double t_s = 0.0;
  double theta_rad = 0.0;        ///< coarse direction, start of the refinement
  double omega_rad_per_s = 0.0;  ///< its rate, for the blur
  cv::Point offset_px;           ///< of the crop's top-left pixel in the picture
  cv::Mat luma;                  ///< CV_8UC1
};

/// The crop seen through a blur. \param smooth_px  its standard deviation; 0 leaves it sharp
[[nodiscard]] ArmCrop softened(const ArmCrop& crop, double smooth_px);

/// Where the arm roughly is in each frame of the clip.
struct ArmWhereabouts {
  std::vector<double> theta_rad;  ///< one a frame
  int shrink = 1;                 ///< of the pictures, for shrunk_picture()
  SwingView view;                 ///< in theirs
  BodyExtent extent;              ///< likewise
};

/// Windows of the frames listed in `wanted` (ascending), cut while the clip is read once more.
/// Memory is that of the windows, not of the pictures.
std::vector<ArmCrop> cut_arm_crops(const ClipOpener& open,
                                   const ClipSurvey& survey,
                                   const std::vector<int>& wanted,
                                   const ArmWhereabouts& arm);

}  // namespace swingloss
