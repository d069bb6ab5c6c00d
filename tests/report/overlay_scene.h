// SPDX-License-Identifier: Apache-2.0
/// \file overlay_scene.h
/// A drawn clip of an invented swing, and the record that fits it.
#pragma once

#include "report/invented_series.h"
#include "support/temp_folder.h"

#include <string>

namespace swingloss::test {

/// invented_swing(), seen square by a camera of `width_px`
/// times `height_px`: axle in the middle, arm of a quarter of the height. The pictures are
/// plain grey, so that all that is not grey was drawn.
struct OverlayScene {
  SwingRecord record;
  int width_px = 480, height_px = 360;
};

/// \param uneven  every fifth picture is missing: time stamps of unequal distance
[[nodiscard]] OverlayScene overlay_scene(bool uneven = false);

/// The scene's pictures as a clip.
void write_scene(const OverlayScene& scene, const std::string& path);

}  // namespace swingloss::test
