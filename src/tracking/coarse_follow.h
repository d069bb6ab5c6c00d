// SPDX-License-Identifier: Apache-2.0
/// \file coarse_follow.h
/// The arm's direction in every frame of a clip of which the survey kept only some pictures.
#pragma once

#include "tracking/coarse_angles.h"

namespace swingloss {

/// Looks for the arm, as found in the pictures kept, in every frame, while the clip is read
/// once more. Memory does not grow with the clip, but for a few bytes a frame: the path is
/// settled piece by piece, each with some seconds before and after it.
///
/// \param found  of find_coarse_angles(), about the same axle
/// \return the same with an angle for each of `survey.t_s`. `found` as it is where the survey
///         kept every picture
[[nodiscard]] CoarseAngles in_every_frame(const ClipOpener& open,
                                          const ClipSurvey& survey,
                                          const cv::Point2d& axle_small_px,
                                          CoarseAngles found);

}  // namespace swingloss
