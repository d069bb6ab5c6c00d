// SPDX-License-Identifier: Apache-2.0
/// \file uneven_light.h
/// A clip whose light, or whose camera's exposure, drifts, jumps or flickers. Internal to
/// tracking.
#pragma once

#include "core/remark.h"
#include "tracking/clip_survey.h"

#include <optional>

namespace swingloss {

/// Whether the light, or the camera's exposure, changes by more than a passing arm would make
/// it seem to: a camera sets its exposure anew, lamps on the mains flicker a hundred or a
/// hundred and twenty times a second, and all that stands still would seem to move.
/// \return what to say about it, "light-flickers" or "light-changes"; or nothing
[[nodiscard]] std::optional<Remark> uneven_light(const ClipSurvey& survey);

/// The clip with each picture in the usual light, that of the survey's background, strip by
/// strip (even_strips()). Only the brightness is given.
[[nodiscard]] ClipOpener evened(const ClipOpener& open, const ClipSurvey& survey);

}  // namespace swingloss
