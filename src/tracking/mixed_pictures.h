// SPDX-License-Identifier: Apache-2.0
/// \file mixed_pictures.h
/// A clip each of whose pictures is the mean of two moments. Internal to tracking.
#pragma once

#include "core/remark.h"
#include "tracking/clip_survey.h"

#include <optional>

namespace swingloss {

/// Whether each picture is the mean of its own moment and the one before, as editing programs
/// make them that smooth a motion ("frame blending"): the arm is seen twice, see-through. Then
/// whatever passes a place is seen there in two pictures, never in one alone, and half as
/// strongly in the first and the last of them.
/// \return what to say about it, "pictures-mixed"; or nothing
[[nodiscard]] std::optional<Remark> mixed_pictures(const ClipSurvey& survey);

/// The clip with each picture's own moment taken out of the mean: twice the mean less the
/// moment before. Errors, which would go on from picture to picture, fade; where three pictures
/// are alike they stop. Only the brightness is given.
[[nodiscard]] ClipOpener unmixed(const ClipOpener& open);

}  // namespace swingloss
