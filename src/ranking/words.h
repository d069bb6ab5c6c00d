// SPDX-License-Identifier: Apache-2.0
/// \file words.h
/// Numbers and names as they stand in sentences.
#pragma once

#include "ranking/budget.h"
#include "ranking/interval.h"

#include <string>
#include <vector>

namespace swingloss {

/// "kJ/m²" or "J".
[[nodiscard]] const char* unit_words(Quantity quantity);

/// Three significant digits, with a real minus sign: "24.1", "−0.0312".
[[nodiscard]] std::string value_words(double value);

/// A relative change as a percentage, one decimal below 10 %: "+15 %", "−3.2 %".
[[nodiscard]] std::string change_words(double relative);

/// A share of one: "97 %", "above 99.9 %", "below 0.1 %".
[[nodiscard]] std::string share_words(double share);

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
