// SPDX-License-Identifier: Apache-2.0
/// \file budget.h
/// Where the uncertainty of a group's mean comes from, and what is worth improving.
#pragma once

#include "ranking/bar.h"

#include <optional>
#include <string>
#include <vector>

namespace swingloss {

enum class Quantity { Strength_kJ_m2, Energy_J };

/// The ranked quantity of a bar, where it has it.
[[nodiscard]] const std::optional<Uncertain>& quantity_of(const Bar& bar, Quantity quantity);

enum class BudgetKind {
  Scatter,  ///< from bar to bar, beyond what measuring each bar explains; shrinks with more
            ///< bars
  Own,      ///< of measuring each bar by itself; shrinks with more bars
  Shared,   ///< common to the bars; more bars do not help
};

/// "scatter", "own", "shared", as files spell it.
[[nodiscard]] const char* name_of(BudgetKind kind);

/// One source's part in the standard uncertainty of a mean.
struct BudgetPart {
  std::string source;  ///< "bar to bar", or the source's name without the bar it belongs to
  BudgetKind kind = BudgetKind::Scatter;
  double u = 0.0;         ///< unit of the mean
  double fraction = 0.0;  ///< of the sum of squares, 0 to 1
};

/// Parts of the mean of `bars` (those that are averaged, one at least), largest first; equal
/// ones by name.
///
/// What the bars' own uncertainties explain of the scatter is shown under their names and only
/// the rest as scatter, so that nothing is counted twice. A source called "tracking B3" or
/// "tracking#B3" of the bar B3 is gathered under "tracking".
/// \param s  scatter of the bars, where it is known
[[nodiscard]] std::vector<BudgetPart> budget_of_mean(const std::vector<const Bar*>& bars,
                                                     Quantity quantity,
                                                     std::optional<double> s);

/// What to do next about the largest part: more bars for scatter and own parts, a better
/// measurement of the source for a shared one. Empty for an empty budget.
/// Sources are called by source_words(); a group's own answer, which knows whether there is a
/// scatter at all, is in improvement.h.
[[nodiscard]] std::string worth_improving(const std::vector<BudgetPart>& budget);

}  // namespace swingloss
