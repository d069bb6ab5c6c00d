// SPDX-License-Identifier: Apache-2.0
#include "series/read_results.h"

#include "core/csv.h"

#include <map>

namespace swingloss {
namespace {

std::string text(const CsvTable& table, std::size_t row, const std::string& column) {
  return table.optional_text(row, column).value_or("");
}

BreakType break_type_of(const std::string& letter) {
  static const std::map<std::string, BreakType> kLetters = {{"C", BreakType::Complete},
                                                            {"H", BreakType::Hinge},
                                                            {"P", BreakType::Partial},
                                                            {"N", BreakType::NonBreak}};
  const auto known = kLetters.find(letter);
  return known == kLetters.end() ? BreakType::Unknown : known->second;
}

SpecimenRow bar_of(const CsvTable& table, std::size_t row) {
  SpecimenRow result;
  Specimen& bar = result.specimen;
  bar.row = table.line(row);
  bar.id = text(table, row, "name");
  bar.material = text(table, row, "material");
  bar.condition = text(table, row, "condition");
  bar.orientation = text(table, row, "orientation");
  bar.rig = text(table, row, "rig");
  bar.break_type = break_type_of(text(table, row, "break_type"));
  bar.energy_J = table.optional_number(row, "energy_J");
  bar.energy_u_J = table.optional_number(row, "energy_u_J");
  bar.thickness_mm = table.optional_number(row, "thickness_mm");
  bar.width_mm = table.optional_number(row, "width_mm");
  const std::string limit = text(table, row, "limit");
  bar.limit = limit == ">" ? Limit::Above : limit == "<" ? Limit::Below : Limit::None;
  std::string problem = text(table, row, "problem");
  if (problem.empty()) problem = text(table, row, "left_out_reason");
  if (!problem.empty()) {
    result.problem = BarProblem{"not-in-results", problem};
  } else if (!bar.energy_J) {
    result.problem = BarProblem{"no-energy", "no energy in the results"};
  }
  return result;
}

}  // namespace

bool is_results_table(const std::string& path) {
  const CsvTable table = read_csv(path);
  return table.has_column("row") && table.has_column("name");
}

std::vector<SpecimenRow> read_results(const std::string& path) {
  const CsvTable table = read_csv(path);
  table.require_columns({"row", "name", "material", "energy_J"});
  std::vector<SpecimenRow> rows;
  for (std::size_t row = 0; row < table.row_count(); ++row) {
    if (table.text(row, "row") == "bar") rows.push_back(bar_of(table, row));
  }
  if (rows.empty()) {
    throw InputError({path,
                      "column row",
                      "no row of a bar",
                      "the results.csv of a series with bars",
                      "Run the series first: swingloss run SERIES."});
  }
  return rows;
}

}  // namespace swingloss
