// SPDX-License-Identifier: Apache-2.0
/// \file split_blows.h
/// One long recording of several bars, cut into the stretches of its blows.
#pragma once

#include "core/angle_track.h"
#include "core/result.h"

#include <vector>

namespace swingloss {

/// One track a blow, in the order of time, with the times of the recording. Each reaches from
/// just after the blow before it to the next release, 20 s before and 30 s after the blow at
/// most, so that holds, rests and later swings that belong to it are in. Releases that meet no
/// bar (practice swings) are not blows; a recording without a blow is one track as a whole.
///
/// \return as find_falls() where nothing swings
[[nodiscard]] Result<std::vector<AngleTrack>> split_blows(const AngleTrack& track);

}  // namespace swingloss
