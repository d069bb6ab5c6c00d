// SPDX-License-Identifier: Apache-2.0
#include "series/series_result.h"

#include <algorithm>

namespace swingloss {

bool all_measured(const std::vector<BarResult>& bars) {
  return std::none_of(
      bars.begin(), bars.end(), [](const BarResult& bar) { return bar.problem.has_value(); });
}

std::optional<Ranking> rank_results(const std::vector<BarResult>& results,
                                    const RankingOptions& options) {
  std::vector<Bar> bars;
  bars.reserve(results.size());
  for (const BarResult& result : results) bars.push_back(result.bar);
  const bool usable = std::any_of(
      bars.begin(), bars.end(), [](const Bar& bar) { return bar.energy_J.has_value(); });
  if (!usable) return {};
  return rank_bars(bars, options);
}

}  // namespace swingloss
