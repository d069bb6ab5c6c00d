// SPDX-License-Identifier: Apache-2.0
/// \file release_of_rig.h
/// How high a rig's arm is let go, as the clips show it.
#pragma once

#include "series/series_result.h"

#include <optional>
#include <string>

namespace swingloss {

/// Release of one swing of a rig.
struct MeasuredRelease {
  Uncertain angle_rad;  ///< mean of the clips; u is what one swing may be off it
  int clips = 0;
};

/// Mean release angle of the bars that were filmed on the rig. Its u is the larger of the
/// scatter between the clips and the root mean square of their own uncertainties: a latch and
/// a hand are told by the first, and the camera set-up, which all clips share, by the second.
/// \return nothing where no clip shows a release
[[nodiscard]] std::optional<MeasuredRelease> release_of_rig(const SeriesResult& series,
                                                            const std::string& rig);

}  // namespace swingloss
