// SPDX-License-Identifier: Apache-2.0
#include "series/table_input.h"

#include "series/conclude.h"
#include "series/draw_bar.h"
#include "series/read_results.h"
#include "series/read_specimens.h"
#include "series/settle.h"

#include <filesystem>

namespace swingloss {

SeriesResult rank_table(const std::string& path, const TableOptions& options) {
  SeriesResult result;
  result.title = std::filesystem::path(path).filename().string();
  result.section_u_mm = options.section_u_mm;
  result.ranking_options = options.ranking;
  ConcludeOptions conclude;
  conclude.section_u_mm = options.section_u_mm;
  for (const SpecimenRow& row :
       is_results_table(path) ? read_results(path) : read_specimens(path, "")) {
    result.bars.push_back(row.problem ? conclude_problem(row.specimen, *row.problem)
                                      : conclude_typed(row.specimen, conclude));
  }
  if (!options.masses.empty()) {
    result.conditioning = settle_bars(options.masses, result.bars);
  }
  result.ranking = rank_results(result.bars, options.ranking);
  draw_bars(result, options.monte_carlo);
  return result;
}

}  // namespace swingloss
