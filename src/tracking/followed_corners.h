// SPDX-License-Identifier: Apache-2.0
/// \file followed_corners.h
/// How places on what moves get from one picture to another. Internal to tracking.
#pragma once

#include "tracking/clip_survey.h"

#include <vector>

#include <opencv2/core.hpp>

namespace swingloss {

/// One place on something that moves, in two pictures [small pixels].
struct FollowedCorner {
  cv::Point2d from, to;
};

/// Small patches of what differs from the background, followed forth and back from each picture
/// to the next, and over six pictures for slow swings. Those that come back elsewhere, or moved
/// by less than a pixel, are left out.
/// \return up to about 20000
[[nodiscard]] std::vector<FollowedCorner> follow_corners(const ClipSurvey& survey);

}  // namespace swingloss
