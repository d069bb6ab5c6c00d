// SPDX-License-Identifier: Apache-2.0
#include "bars.h"
#include "support/test.h"

#include <algorithm>
#include <fstream>
#include <map>
#include <sstream>

using namespace swingloss;

namespace {

/// Rows of a plain CSV (no quotes) below its header; empty when the file is not there.
std::vector<std::vector<std::string>> rows_of(const std::string& name) {
  std::ifstream file(SWINGLOSS_SOURCE_DIR "/../shared/real/values/" + name);
  std::vector<std::vector<std::string>> rows;
  std::string line;
  std::getline(file, line);
  while (std::getline(file, line)) {
    if (!line.empty() && line.back() == '\r') line.pop_back();
    std::istringstream fields(line);
    std::vector<std::string> row;
    for (std::string field; std::getline(fields, field, ',');) row.push_back(field);
    rows.push_back(row);
  }
  if (rows.empty()) WARN("skipped: no ../shared/real/values beside the checkout");
  return rows;
}

/// Strengths in MPa of printed tensile bars, standing in for a strength of any kind: a group a
/// maker, material and colour, and block where asked; "xy" along, "z" across the layers.
std::vector<Bar> printed_bars(const std::vector<std::vector<std::string>>& rows,
                              bool by_block) {
  std::vector<Bar> bars;
  const std::string annealed = " (annealed)";
  for (const auto& row : rows) {
    std::string material = row[1];
    std::string condition = "as-made";
    const std::size_t place = material.find(annealed);
    if (place != std::string::npos) {
      material.erase(place, annealed.size());
      condition = "annealed";
    }
    const std::string orientation = row[3] == "xy" ? "along" : "across";
    const std::string name = row[0] + " " + material + " " + row[2];
    test::add_bars(bars,
                   {by_block ? name + " " + row[4] : name, condition, orientation},
                   {std::stod(row[8])});
  }
  return bars;
}

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  const std::size_t half = values.size() / 2;
  return values.size() % 2 == 1 ? values[half] : 0.5 * (values[half - 1] + values[half]);
}

}  // namespace

TEST_CASE("the four impact machines in joule have the published means and deviations",
          "[truth]") {
  // NIST Dataplot SPLETT2.DAT, converted: means and s as printed in its description.
  const auto rows = rows_of("impact_four_machines.csv");
  if (rows.empty()) return;
  std::vector<Bar> bars;
  for (const auto& row : rows) test::add_bars(bars, {row[2]}, {std::stod(row[1])});
  const Ranking ranking = rank_bars(bars);
  const std::map<std::string, std::pair<double, double>> published{
      {"machine 1", {91.70, 3.09}},
      {"machine 2", {93.83, 3.21}},
      {"machine 3", {98.40, 3.25}},
      {"machine 4", {92.17, 2.92}}};
  for (const GroupSummary& group : ranking.groups) {
    CHECK_THAT(*group.mean, test::to_printed_decimals(published.at(group.name).first, 2));
    CHECK_THAT(*group.s, test::to_printed_decimals(published.at(group.name).second, 2));
  }
  CHECK(ranking.groups.front().name == "machine 3");
  for (const Comparison& pair : ranking.comparisons) {
    CHECK((pair.verdict == Verdict::Clear) == (pair.first == 0));
  }
}

TEST_CASE("378 printed bars: groups, scatter and the effect of the layers", "[truth]") {
  // joshcarter/tensile_test: 378 bars in 78 groups; median CV 3.6 % along the layers and 12 %
  // across (its description).
  const auto rows = rows_of("printed_tensile.csv");
  if (rows.empty()) return;
  const std::vector<Bar> bars = printed_bars(rows, true);
  REQUIRE(bars.size() == 378);
  RankingOptions options;
  options.base_orientation = "along";
  options.draws = 1000;
  const Ranking ranking = rank_bars(bars, options);
  CHECK(ranking.groups.size() == 78);
  std::vector<double> along;
  std::vector<double> across;
  for (const GroupSummary& group : ranking.groups) {
    if (group.cv) (group.orientation == "along" ? along : across).push_back(100.0 * *group.cv);
  }
  CHECK_THAT(median(along), test::to_printed_decimals(3.6, 1));
  CHECK_THAT(median(across), test::to_printed_decimals(12.0, 0));

  // Blocks of one filament together: across against along for each, and annealed against not.
  const Ranking filaments = rank_bars(printed_bars(rows, false), options);
  int weaker = 0;
  int layers = 0;
  int annealed = 0;
  for (const FactorEffect& effect : filaments.effects) {
    REQUIRE(effect.change.has_value());
    annealed += effect.factor == Factor::Condition ? 1 : 0;
    if (effect.factor != Factor::Orientation) continue;
    ++layers;
    weaker += *effect.change < 0.0 ? 1 : 0;
  }
  // Layers do not hold as well as strands: known of all printing in layers.
  CHECK(layers > 25);
  CHECK(weaker == layers);
  CHECK(annealed == 3);
}
