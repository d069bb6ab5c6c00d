// SPDX-License-Identifier: Apache-2.0
/// \file invented_series.h
/// A series that nobody tested: invented materials with plausible numbers, hostile names among
/// them, for looking at what the report makes of it.
#pragma once

#include "series/series_result.h"

#include <string>

namespace swingloss::test {

/// A name with markup, quotes, an ampersand, umlauts, an emoji and a right-to-left mark.
[[nodiscard]] std::string hostile_name();

/// A swing of a damped pendulum, integrated in small steps: `release_deg` to rest, with the
/// blow taking it down to a rise of `rise_deg`, sampled 60 times a second with noise.
/// \param mirrored  the arm starts left of the axle: the track counts the other way
[[nodiscard]] SwingRecord invented_swing(double release_deg,
                                         double rise_deg,
                                         bool mirrored = false);

/// Five groups of three to five bars. Among them: a bar that did not break, one that could not
/// be measured, one left out, typed values, and hostile_name().
[[nodiscard]] SeriesResult invented_series();

}  // namespace swingloss::test
