// SPDX-License-Identifier: Apache-2.0
/// \file axle_search.h
/// Where the thing that moves turns about, from motion alone.
#pragma once

#include "tracking/followed_corners.h"

#include <vector>

namespace swingloss {

/// A place about which much of the motion turns.
struct AxleCandidate {
  cv::Point2d small_px;    ///< in small pixels; may lie outside the picture
  double support = 0.0;    ///< sum of the agreeing motions' weights
  double spread_px = 0.0;  ///< robust scatter of the agreeing perpendicular bisectors
};

/// A point that turns about an axle moves along a chord, whose perpendicular bisector passes
/// through the axle. The axle is where most bisectors of followed places meet. A cast shadow
/// turns about the axle's shadow and makes a candidate of its own, so several are returned,
/// best supported first.
///
/// \param size  of the small pictures
/// \return up to `wanted` candidates at least a few pixels apart; none when nothing turns
[[nodiscard]] std::vector<AxleCandidate> find_axle_candidates(
    const std::vector<FollowedCorner>& corners, const cv::Size& size, int wanted = 4);

/// How much of the motion turns about one place: the support of the best one over what it would
/// be if every bisector passed through it. 0..1; 0 when nothing turns
[[nodiscard]] double part_about_one_axle(const std::vector<FollowedCorner>& corners,
                                         const cv::Size& size);

}  // namespace swingloss
