// SPDX-License-Identifier: Apache-2.0
/// \file words.h
/// Numbers and codes as people read them: units, rounding, minus signs. For pages and charts;
/// files for programs take the exact numbers.
#pragma once

#include "core/uncertain.h"
#include "ranking/ranking.h"
#include "ranking/words.h"

#include <optional>
#include <string>

namespace swingloss {

/// "1.234 ± 0.012 J": one standard uncertainty, two digits of it, no-break spaces.
/// \param unit  UTF-8, may be empty; "°" is set without a space
[[nodiscard]] std::string with_u_words(const Uncertain& value, const std::string& unit);

/// The same for an angle held in radians, shown in degrees.
[[nodiscard]] std::string angle_words(const Uncertain& angle_rad);

/// `digits` significant digits and the unit.
[[nodiscard]] std::string rounded_words(double value, int digits, const std::string& unit);

/// share_words() for tables: "93 %", "> 99.9 %", "< 0.1 %", no-break spaces.
[[nodiscard]] std::string percent_words(double probability);

/// change_words() with a no-break space: "+12 %", "−4.0 %".
[[nodiscard]] std::string change_percent_words(double change);

/// A small relative change, of mass or size, as a percentage: "+2.18 %", "−0.05 %".
[[nodiscard]] std::string small_change_words(double change);

/// "19.9 to 23.0", "above 19.9", "below 23.0", or a dash.
[[nodiscard]] std::string interval_words(const Interval& interval, int decimals);

/// The same for a ratio: "1.43 to 2.80".
[[nodiscard]] std::string ratio_interval_words(const Interval& interval);

/// The mean of a group, or the bound where only that is known: "21.4", "> 30.2", "–".
[[nodiscard]] std::string mean_or_bound_words(const GroupSummary& group);

/// "kJ/m²" or "J".
[[nodiscard]] std::string unit_of(Quantity quantity);

/// "Impact strength" or "Absorbed energy".
[[nodiscard]] std::string title_of(Quantity quantity);

/// "C complete", "H hinge", "P partial", "N no break", "not stated".
[[nodiscard]] std::string break_words(BreakType type);

/// Two lengths of a section in millimetres, to the same decimal: "4.00 × 8.03 mm".
[[nodiscard]] std::string section_words(double thickness_mm, double width_mm);

/// The sentence with no-break spaces before per cent signs and units.
[[nodiscard]] std::string unbroken(std::string sentence);

/// ">" for Above, "<" for Below, else empty: as specimens.csv has it.
[[nodiscard]] std::string limit_sign(Limit limit);

/// The same with a no-break space, to stand before a number; empty for a value.
[[nodiscard]] std::string bound_sign(Limit limit);

}  // namespace swingloss
