// SPDX-License-Identifier: Apache-2.0
/// \file track_legs.h
/// A track cut where the arm turns round. Internal to swing.
#pragma once

#include "core/angle_track.h"

#include <cstddef>
#include <optional>
#include <vector>

namespace swingloss {

/// From one reversal to the next.
struct Leg {
  std::size_t begin = 0, end = 0;  ///< samples of the two reversals
  double span_rad = 0.0;
};

/// Zigzag: a reversal counts once the angle has come back by `threshold_rad`.
[[nodiscard]] std::vector<Leg> legs_of(const std::vector<AngleSample>& samples,
                                       double threshold_rad);

/// A leg and the time from a fifth to four fifths of it.
struct QuickLeg {
  Leg leg;
  double transit_s = 0.0;
};

/// Of the legs that span 0.4 of the largest or more, the one passed most quickly, with four
/// samples on the way if there is one, else with three or two.
[[nodiscard]] std::optional<QuickLeg> quickest_leg(const std::vector<AngleSample>& samples,
                                                   const std::vector<Leg>& legs);

}  // namespace swingloss
