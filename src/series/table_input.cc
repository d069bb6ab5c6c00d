// SPDX-License-Identifier: Apache-2.0
#include "series/table_input.h"

#include "series/conclude.h"
#include "series/read_specimens.h"

#include <filesystem>

namespace swingloss {

SeriesResult rank_table(const std::string& path, const TableOptions& options) {
  SeriesResult result;
  result.title = std::filesystem::path(path).filename().string();
  result.section_u_mm = options.section_u_mm;
  result.ranking_options = options.ranking;
  ConcludeOptions conclude;
  conclude.section_u_mm = options.section_u_mm;
  for (const SpecimenRow& row : read_specimens(path, "")) {
    result.bars.push_back(row.problem ? conclude_problem(row.specimen, *row.problem)
                                      : conclude_typed(row.specimen, conclude));
  }
  result.ranking = rank_results(result.bars, options.ranking);
  return result;
}

}  // namespace swingloss
