// SPDX-License-Identifier: Apache-2.0
/// \file length_by_swing.h
/// A rig's reduced length from the rate at which it swings.
#pragma once

#include "swing/pendulum.h"

#include <optional>

namespace swingloss {

/// l = g / w0^2 of a swing that was measured on this rig, through the clock of its clip
/// (capture_ratio.h). Sources: `rig.reduced-length`, what the swing leaves open, and
/// `clip.clock`: for another clip that runs by the same clock that part drops out again.
///
/// \param by_clip_per_s  natural rate of small swings in the clip's time, which may hold what
///                       the rig file says of the length
/// \return nothing where the swing tells it hardly better than the rig file (0.8 of its u), or
///         contradicts it (slow motion, or a wrong length)
[[nodiscard]] std::optional<Uncertain> length_by_swing(const Pendulum& pendulum,
                                                       const Uncertain& by_clip_per_s);

}  // namespace swingloss
