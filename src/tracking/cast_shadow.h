// SPDX-License-Identifier: Apache-2.0
/// \file cast_shadow.h
/// Telling an arm from the shadow that it casts. Internal to tracking.
#pragma once

#include "tracking/clip_survey.h"
#include "tracking/coarse_angles.h"

#include <opencv2/core.hpp>

namespace swingloss {

/// How much like a shadow the thing is that turns about an axle. An arm hides what is behind it
/// and keeps its own levels; a shadow takes the same part off whatever it falls on. Rms misfit
/// of the first over that of the second, over the places of what turns: below 1 for a thing of
/// its own, above for a shadow, near 1 where the background is of one level.
/// \return 1 where no place tells
[[nodiscard]] double shadow_likeness(const ClipSurvey& survey,
                                     const cv::Point2d& axle_small_px,
                                     const CoarseAngles& angles);

}  // namespace swingloss
