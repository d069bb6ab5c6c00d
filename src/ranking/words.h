// SPDX-License-Identifier: Apache-2.0
/// \file words.h
/// Numbers and names as they stand in sentences.
#pragma once

#include "ranking/budget.h"
#include "ranking/group_summary.h"
#include "ranking/interval.h"

#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// "kJ/m²" or "J".
[[nodiscard]] const char* unit_words(Quantity quantity);

/// Three significant digits, with a real minus sign: "24.1", "−0.0312".
[[nodiscard]] std::string value_words(double value);

/// Fixed notation with a real minus sign.
[[nodiscard]] std::string fixed_words(double value, int decimals);

/// Decimal places that show an uncertainty `u` > 0 to two significant digits; 0 for u >= 10.
[[nodiscard]] int decimals_for(double u);

/// Decimal places of a mean and the ends of its interval, wherever they are shown: two digits
/// of a quarter of the interval's width, which is about one standard uncertainty; without two
/// ends three significant digits of `value`.
[[nodiscard]] int decimals_of(const Interval& interval, std::optional<double> value);

/// The same for a group's mean, or for its bound where only that is known.
[[nodiscard]] int decimals_of(const GroupSummary& group);

/// A relative change as a percentage, one decimal below 10 %: "+15 %", "−3.2 %".
[[nodiscard]] std::string change_words(double relative);

/// A ratio: "1.03", "12.7": two decimals below ten, else three significant digits.
[[nodiscard]] std::string ratio_words(double ratio);

/// A share of one: "97 %", "99.4 %", "above 99.9 %", "below 0.1 %". Neither 0 nor 100 %: what
/// no simulated world showed is not impossible.
[[nodiscard]] std::string share_words(double share);

/// A p-value: "0.57", "0.013", "< 0.001".
[[nodiscard]] std::string p_value_words(double p);

/// The same with its letter: "p = 0.013", "p < 0.001".
[[nodiscard]] std::string p_words(double p);

/// Places that hold with the stated confidence: "1", "2–3"; a dash for a group without any.
[[nodiscard]] std::string places_words(const GroupSummary& group);

/// "22.0 to 26.2", "above 22.0", "below 26.2" by `spell`; empty without ends.
template <typename Spell>
[[nodiscard]] std::string interval_words(const Interval& interval, Spell spell) {
  if (interval.low && interval.high)
    return spell(*interval.low) + " to " + spell(*interval.high);
  if (interval.low) return "above " + spell(*interval.low);
  if (interval.high) return "below " + spell(*interval.high);
  return "";
}

/// "A", "A and B", "A, B and C", "A, B, C and 4 more" beyond `most`.
[[nodiscard]] std::string list_words(const std::vector<std::string>& names,
                                     std::size_t most = 4);

/// "1 bar", "3 bars".
[[nodiscard]] std::string bars_words(int count);

}  // namespace swingloss
