// SPDX-License-Identifier: Apache-2.0
/// \file uneven_light.h
/// Whether a clip's pictures have to be brought to one brightness. Internal to tracking.
#pragma once

#include "core/remark.h"
#include "tracking/clip_survey.h"

#include <optional>

namespace swingloss {

/// Whether the light, or the camera's exposure, changes by more than a passing arm would make
/// it seem to: then all that stands still seems to move (even_light.h puts it right).
/// \return what to say about it, "light-flickers" or "light-changes"; or nothing
[[nodiscard]] std::optional<Remark> uneven_light(const ClipSurvey& survey);

}  // namespace swingloss
