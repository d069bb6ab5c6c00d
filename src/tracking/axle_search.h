// SPDX-License-Identifier: Apache-2.0
/// \file axle_search.h
/// Where the thing that moves turns about, from motion alone.
#pragma once

#include "tracking/clip_survey.h"

#include <vector>

namespace swingloss {

/// A place about which much of the motion turns.
struct AxleCandidate {
  cv::Point2d small_px;    ///< in small pixels; may lie outside the picture
  double support = 0.0;    ///< sum of the agreeing motions' weights
  double spread_px = 0.0;  ///< robust scatter of the agreeing perpendicular bisectors
};

/// A point that turns about an axle moves along a chord, whose perpendicular bisector passes
/// through the axle. Small patches of what moves are followed from frame to frame; the axle is
/// where most bisectors meet. A cast shadow turns about the axle's shadow and makes a candidate
/// of its own, so several are returned, best supported first.
///
/// \return up to `wanted` candidates at least a few pixels apart; none when nothing turns
std::vector<AxleCandidate> find_axle_candidates(const ClipSurvey& survey, int wanted = 4);

}  // namespace swingloss
