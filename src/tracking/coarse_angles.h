// SPDX-License-Identifier: Apache-2.0
/// \file coarse_angles.h
/// The arm's direction in every frame to about a degree, with nothing known of its looks.
#pragma once

#include "tracking/clip_survey.h"

#include <vector>

namespace swingloss {

/// Directions of the arm about one axle, in the picture.
struct CoarseAngles {
  std::vector<double>
      theta_rad;  ///< one a frame, unwrapped; 0 down the picture, positive toward the right
  std::vector<double> support;  ///< how well each frame shows the arm there: 1 as good as the
                                ///< typical frame, 0 not at all
  double arm_length_px =
      0.0;  ///< full pixels: axle to the farthest part that keeps turning with the arm
  double arm_half_width_px = 0.0;  ///< full pixels: half the width of the widest part
  double arm_behind_px = 0.0;      ///< full pixels: how far the body reaches beyond the axle
  double quality =
      0.0;  ///< 0..1: part of the moving pixels, over all frames, that the turning arm explains
  double swept_rad = 0.0;  ///< from the smallest to the largest angle
};

/// Unwraps each small picture about the axle and finds the path of directions, continuous in
/// time, along which most of what differs from the background turns rigidly. A shadow, a hand
/// or a flying piece does not stay along one radius; a frame where the arm is as bright as what
/// is behind it is bridged by its neighbours.
///
/// \param axle_small_px  in small pixels, good to a few
CoarseAngles find_coarse_angles(const ClipSurvey& survey, const cv::Point2d& axle_small_px);

}  // namespace swingloss
