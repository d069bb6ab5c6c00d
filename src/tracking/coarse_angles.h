// SPDX-License-Identifier: Apache-2.0
/// \file coarse_angles.h
/// The arm's direction in each picture to about a degree, with nothing known of its looks.
#pragma once

#include "tracking/clip_survey.h"
#include "tracking/polar_arm.h"

#include <vector>

namespace swingloss {

/// Directions of the arm about one axle, in the picture.
struct CoarseAngles {
  std::vector<double> theta_rad;  ///< unwrapped; 0 down the picture, positive toward the right
  double arm_length_px =
      0.0;  ///< full pixels: axle to the farthest part that keeps turning with the arm
  double arm_half_width_px = 0.0;  ///< full pixels: half the width of the widest part
  double arm_behind_px = 0.0;      ///< full pixels: how far the body reaches beyond the axle
  double quality =
      0.0;  ///< 0..1: part of the moving pixels, over all frames, that the turning arm explains
  double swept_rad = 0.0;  ///< from the smallest to the largest angle
  PolarArm arm;            ///< in unwrapped small pictures
  int off_bins = 0;        ///< from the arm's bin 0 to the direction that is given
};

/// Unwraps each small picture about the axle and finds the path of directions, continuous in
/// time, along which most of what differs from the background turns rigidly. A shadow, a hand
/// or a flying piece does not stay along one radius; a frame where the arm is as bright as what
/// is behind it is bridged by its neighbours.
///
/// \param axle_small_px  in small pixels, good to a few
/// \return an angle for each of `survey.frames`; for all of a long clip see coarse_follow.h
CoarseAngles find_coarse_angles(const ClipSurvey& survey, const cv::Point2d& axle_small_px);

/// Of the arm once it is clear: places where less of it was found do not count.
inline constexpr float kClearPresence = 0.6F;

/// Still stretches would outvote the swing; a picture counts by what changed, at least a
/// little. \param picture  index among the survey's small ones
[[nodiscard]] double frame_weight(const ClipSurvey& survey, std::size_t picture);

/// For PolarMatch.
[[nodiscard]] double match_cap_levels(const ClipSurvey& survey);

/// The direction that an unwrapped bin and the scores around it stand for.
[[nodiscard]] double direction_rad(const std::vector<float>& scores, int bin, int off_bins);

/// The arm's lengths, in pixels of which `scale` go into one of the present.
void rescale_lengths(double scale, CoarseAngles& angles);

/// Sets what was swept and takes whole turns off, so that the middle of the angles is nearest
/// to hanging down. \pre some angles
void settle_turns(CoarseAngles& angles);

}  // namespace swingloss
