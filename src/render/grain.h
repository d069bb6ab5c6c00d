// SPDX-License-Identifier: Apache-2.0
/// \file grain.h
/// How surfaces vary from place to place: plaster, wood, tiles, boards.
#pragma once

#include "render/prism.h"

namespace swingloss::render {

/// Smooth random relief with features of about 1 unit, mean 0, within +/- 1; the same
/// everywhere for the same seed.
[[nodiscard]] float value_noise(float x, float y, unsigned seed);

/// The share of light that a surface throws back at a place of the room, relative to its plain
/// albedo (1 on average, >= 0).
[[nodiscard]] float grain_at(const Material& material,
                             const cv::Vec3f& place_m,
                             const cv::Vec3f& normal);

}  // namespace swingloss::render
