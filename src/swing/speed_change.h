// SPDX-License-Identifier: Apache-2.0
/// \file speed_change.h
/// A film that is played slowed down in part. Internal to swing.
#pragma once

#include "core/angle_track.h"

#include <optional>
#include <vector>

namespace swingloss {

/// Time of the last sample until which the arm moves as one pendulum, where after the turning
/// point just before it goes on as another one, quicker or slower by half or more: phones that
/// write slow motion into a film let it begin and end at the usual speed.
/// \param latest_s  turning points after it are not asked
/// \return nothing where the track tells of no such change
[[nodiscard]] std::optional<double> speed_change_s(const std::vector<AngleSample>& samples,
                                                   double latest_s = 1e300);

}  // namespace swingloss
