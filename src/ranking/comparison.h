// SPDX-License-Identifier: Apache-2.0
/// \file comparison.h
/// Two groups against one another.
#pragma once

#include "ranking/interval.h"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// How sure the order of two groups is.
enum class Verdict {
  Clear,        ///< different after Holm over all comparisons of the ranking
  Likely,       ///< the order is right with the stated confidence when this pair is taken alone
  NotResolved,  ///< neither
};

/// "clear", "likely", "not resolved", as the report says it.
[[nodiscard]] const char* name_of(Verdict verdict);

/// Two groups against one another.
struct Comparison {
  std::size_t first = 0, second = 0;   ///< indices into Ranking::groups; first ranks higher
  std::vector<std::string> differ_in;  ///< "material", "condition", ... (differ_in.h)
  std::optional<double> difference;    ///< first - second
  Interval difference_interval;
  std::optional<double> ratio;    ///< first / second
  Interval ratio_interval;        ///< Fieller; from the two bounds where one is a bound
  std::optional<double> p_value;  ///< Welch, or likelihood ratio where censored
  std::optional<double> p_holm;   ///< after Holm over all comparisons of the ranking
  std::string method;     ///< "Welch t", "likelihood ratio", ...; empty without a p value
  double u_shared = 0.0;  ///< of the difference: sources that do not cancel; in its interval.
                          ///< The p value counts only what could turn the order round
  Verdict verdict = Verdict::NotResolved;
  std::optional<int> bars_to_resolve;  ///< a group, where the verdict is not Clear
  std::string bars_words;  ///< beside every verdict that is not Clear: how many bars, or why
                           ///< none would do
  std::optional<double> p_equivalent;  ///< that they differ by more than the margin, after Holm
  bool equivalent =
      false;  ///< within the margin of one another: "no big difference" is a finding
};

}  // namespace swingloss
