// SPDX-License-Identifier: Apache-2.0
/// \file invented_frames.h
/// Pictures of the swings that invented_series() tells of.
#pragma once

#include "series/series_result.h"
#include "series/strip_frames.h"

#include <vector>

namespace swingloss::test {

/// Three drawn pictures, 480 x 360: a stand, an arm at the fitted angle with its axle at
/// (240, 150) and its end 110 px from there. None for a bar without a swing.
[[nodiscard]] std::vector<StripFrame> invented_frames(const BarResult& bar);

}  // namespace swingloss::test
