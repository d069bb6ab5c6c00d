// SPDX-License-Identifier: Apache-2.0
/// \file words.h
/// Numbers and codes as people read them: units, rounding, minus signs. For pages and charts;
/// files for programs take the exact numbers.
#pragma once

#include "core/uncertain.h"
#include "ranking/ranking.h"

#include <optional>
#include <string>

namespace swingloss {

/// Decimal places that show an uncertainty `u` > 0 to two significant digits; 0 for u >= 10.
[[nodiscard]] int decimals_for(double u);

/// Fixed notation with a true minus sign.
[[nodiscard]] std::string fixed_words(double value, int decimals);

/// "1.234 ± 0.012 J": one standard uncertainty, two digits of it, no-break spaces.
/// \param unit  UTF-8, may be empty; "°" is set without a space
[[nodiscard]] std::string with_u_words(const Uncertain& value, const std::string& unit);

/// The same for an angle held in radians, shown in degrees.
[[nodiscard]] std::string angle_words(const Uncertain& angle_rad);

/// `digits` significant digits and the unit.
[[nodiscard]] std::string rounded_words(double value, int digits, const std::string& unit);

/// A probability [0, 1] as a percentage: "93 %", "> 99 %", "< 1 %". Neither 0 nor 100 %: what
/// no simulated world showed is not impossible.
[[nodiscard]] std::string percent_words(double probability);

/// A relative change [1] as a percentage with its sign: "+12.3 %", "−4.0 %".
[[nodiscard]] std::string change_percent_words(double change);

/// A p-value: "0.013", "< 0.001".
[[nodiscard]] std::string p_value_words(double p);

/// "19.9 to 23.0", "above 19.9", "below 23.0", or a dash.
[[nodiscard]] std::string interval_words(const Interval& interval, int decimals);

/// The mean of a group, or the bound where only that is known: "21.4", "> 30.2", "–".
[[nodiscard]] std::string mean_or_bound_words(const GroupSummary& group, int decimals);

/// Decimal places for a group's mean and interval: from half the interval's width, else four
/// significant digits of the mean.
[[nodiscard]] int decimals_of(const GroupSummary& group);

/// The same for a table of all groups, so that its figures stand under one another: the middle
/// of the groups' own.
[[nodiscard]] int decimals_of(const Ranking& ranking);

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

}  // namespace swingloss
