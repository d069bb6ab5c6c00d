// SPDX-License-Identifier: Apache-2.0
#include "ranking/plan_reached.h"

#include "core/input_error.h"
#include "core/number_text.h"
#include "ranking/plan_bars.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

std::optional<double> relative_half_width(const GroupSummary& group) {
  if (!group.mean || *group.mean <= 0.0) return std::nullopt;
  if (!group.interval.low || !group.interval.high) return std::nullopt;
  return std::max(*group.mean - *group.interval.low, *group.interval.high - *group.mean) /
         *group.mean;
}

}  // namespace

std::vector<ReachedRow> precision_reached(const Ranking& ranking,
                                          const std::vector<double>& wanted_half_widths) {
  for (const double wanted : wanted_half_widths) {
    if (wanted > 0.0 && std::isfinite(wanted)) continue;
    const std::string found = std::isfinite(wanted) ? number_text(wanted) : "no finite number";
    throw InputError({"", "wanted half-width", found, "a relative half-width above 0", ""});
  }
  std::vector<ReachedRow> rows;
  for (std::size_t g = 0; g < ranking.groups.size(); ++g) {
    const GroupSummary& group = ranking.groups[g];
    if (!group.cv || *group.cv <= 0.0) continue;
    ReachedRow row;
    row.group = g;
    row.bars = group.n_exact + group.n_above + group.n_below;
    row.half_width = relative_half_width(group);
    row.cautious_cv = cautious_scatter(*group.cv, row.bars);
    for (const double wanted : wanted_half_widths) {
      row.bars_for.push_back(
          bars_for_half_width(*row.cautious_cv, wanted, ranking.options.confidence));
    }
    rows.push_back(row);
  }
  return rows;
}

}  // namespace swingloss
