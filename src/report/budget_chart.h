// SPDX-License-Identifier: Apache-2.0
/// \file budget_chart.h
/// Where the doubt of each mean comes from, as a picture.
#pragma once

#include "report/canvas.h"
#include "series/series_result.h"

#include <string>
#include <vector>

namespace swingloss {

/// One cause in all groups' budgets.
struct BudgetCause {
  std::string name;  ///< as the legend says it: "moment of the arm (shared)"
  Swatch colour;
  std::vector<double> shares;  ///< of the variance, one a group that has a budget, 0 to 1
};

/// The causes by their mean share, largest first; beyond six besides the scatter the rest is
/// joined into a last one, "smaller ones together", so that every colour has one meaning.
[[nodiscard]] std::vector<BudgetCause> budget_causes(const SeriesResult& series);

/// Some group has a budget.
[[nodiscard]] bool has_budgets(const SeriesResult& series);

/// Lines of the legend under the rows.
[[nodiscard]] int budget_legend_lines(const SeriesResult& series);

/// Shares of the variance of each group's mean by cause, a row a group, with a legend; to the
/// right the cause that is worth improving next. \param series  has_budgets()
[[nodiscard]] std::string budget_chart_script(const SeriesResult& series, const Canvas& canvas);

}  // namespace swingloss
