// SPDX-License-Identifier: Apache-2.0
/// \file repeated_pictures.h
/// A clip that shows some of its pictures twice. Internal to tracking.
#pragma once

#include "core/remark.h"
#include "tracking/clip_survey.h"

#include <vector>

namespace swingloss {

/// Frames, ascending, that show the picture before once more although the arm moves before and
/// after: a film brought to another picture rate, or recorded from a screen, repeats pictures
/// where it has none of the moment. What they show is of another moment than their time says.
/// Slow motion is not judged, nor are frames of which the survey keeps no picture.
/// \return empty where there are so few that an arm thrown back may have made them
[[nodiscard]] std::vector<int> repeated_pictures(const ClipSurvey& survey);

/// The clip without those frames; the others are counted anew, without a gap.
/// \param left_out  ascending
[[nodiscard]] ClipOpener without_pictures(const ClipOpener& open,
                                          const std::vector<int>& left_out);

/// Frame number in the whole clip of each frame of the clip without some.
/// \param frames  of the whole clip
[[nodiscard]] std::vector<int> numbers_of_kept(int frames, const std::vector<int>& left_out);

/// \param repeated  of so many frames
[[nodiscard]] Remark repeated_remark(std::size_t repeated, std::size_t frames);

}  // namespace swingloss
