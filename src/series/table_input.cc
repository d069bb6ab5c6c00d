// SPDX-License-Identifier: Apache-2.0
#include "series/table_input.h"

#include "core/shell_word.h"
#include "series/conclude.h"
#include "series/draw_bar.h"
#include "series/read_results.h"
#include "series/read_specimens.h"
#include "series/settle.h"
#include "series/table_doubts.h"

#include <algorithm>
#include <filesystem>

namespace swingloss {
namespace {

bool is_filmed(const SpecimenRow& row) {
  return !row.specimen.clip.empty() && !row.specimen.energy_J;
}

/// The specimens.csv of a filmed series has clips where energies are wanted: one message for
/// all, not one a row.
void check_not_filmed(const std::vector<SpecimenRow>& rows, const std::string& path) {
  const auto filmed =
      static_cast<std::size_t>(std::count_if(rows.begin(), rows.end(), is_filmed));
  if (2 * filmed <= rows.size()) return;
  const std::string folder = std::filesystem::path(path).parent_path().string();
  const std::string series = folder.empty() ? "." : folder;
  throw InputError(
      {path,
       "column clip",
       std::to_string(filmed) + " of " + std::to_string(rows.size()) +
           " bars with a clip and no energy_J",
       "energies, for rank reads no clips",
       "Measure the series: swingloss run " + shell_word(series) + "; afterwards " +
           shell_word((std::filesystem::path(series) / "results" / "results.csv").string()) +
           " can be ranked in other ways."});
}

std::vector<SpecimenRow> rows_of(const std::string& path) {
  if (is_results_table(path)) return read_results(path);
  std::vector<SpecimenRow> rows = read_specimens(path, "");
  check_not_filmed(rows, path);
  return rows;
}

}  // namespace

SeriesResult rank_table(const std::string& path, const TableOptions& options) {
  SeriesResult result;
  result.title = std::filesystem::path(path).filename().string();
  result.section_u_mm = options.section_u_mm;
  result.ranking_options = options.ranking;
  ConcludeOptions conclude;
  conclude.section_u_mm = options.section_u_mm;
  const std::vector<SpecimenRow> rows = rows_of(path);
  for (const SpecimenRow& row : rows) {
    result.bars.push_back(row.problem ? conclude_problem(row.specimen, *row.problem)
                                      : conclude_typed(row.specimen, conclude));
  }
  if (!options.masses.empty()) {
    result.conditioning = settle_bars(options.masses, result.bars);
  }
  result.ranking = rank_results(result.bars, options.ranking);
  result.remarks = doubts_of_table(rows, "");
  append(result.remarks, doubts_of_result(result));
  draw_bars(result, options.monte_carlo, options.jobs);
  return result;
}

}  // namespace swingloss
