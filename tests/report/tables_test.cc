// SPDX-License-Identifier: Apache-2.0
#include "core/angle.h"
#include "core/csv.h"
#include "report/invented_series.h"
#include "report/results_csv.h"
#include "report/results_json.h"
#include "support/test.h"

#include <nlohmann/json.hpp>

namespace swingloss {
namespace {

using Json = nlohmann::json;

std::vector<std::size_t> rows_of(const CsvTable& table, const std::string& kind) {
  std::vector<std::size_t> rows;
  for (std::size_t row = 0; row < table.row_count(); ++row) {
    if (table.text(row, "row") == kind) rows.push_back(row);
  }
  return rows;
}

}  // namespace

TEST_CASE("results.csv holds every bar with exactly its numbers", "[report]") {
  const SeriesResult series = test::invented_series();
  const CsvTable table = CsvTable::parse(results_csv(series), "results.csv");
  const std::vector<std::size_t> rows = rows_of(table, "bar");
  REQUIRE(rows.size() == series.bars.size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const Bar& bar = series.bars[i].bar;
    CHECK(table.text(rows[i], "name") == series.bars[i].specimen.id);
    CHECK(table.optional_number(rows[i], "energy_J").has_value() == bar.energy_J.has_value());
    if (!bar.energy_J) continue;
    CHECK(table.number(rows[i], "energy_J") == bar.energy_J->value());
    CHECK(table.number(rows[i], "energy_u_J") == bar.energy_J->u());
    CHECK(table.number(rows[i], "strength_kJ_m2") == bar.strength_kJ_m2->value());
  }
  CHECK(table.text(rows[6], "limit") == ">");
  CHECK(table.text(rows[12], "problem") == series.bars[12].problem->text);
  CHECK(table.text(rows[3], "left_out_reason") == series.bars[3].bar.left_out_reason);
}

TEST_CASE("results.csv says that it is UTF-8, and its numbers have a decimal point",
          "[report]") {
  SeriesResult series = test::invented_series();
  series.bars[0].specimen.material = "Gr\u00FCnling \U0001F528";
  const std::string text = results_csv(series);
  CHECK(text.rfind("\xEF\xBB\xBF"
                   "row,",
                   0) == 0);  // the byte-order mark: [RFC3629] 6
  const CsvTable table = CsvTable::parse(text, "results.csv");
  CHECK(table.text(0, "material") == series.bars[0].specimen.material);
  CHECK_THAT(table.text(0, "energy_J"), Catch::Contains(".") && !Catch::Contains(","));
}

TEST_CASE("results.csv gives angles in degrees", "[report]") {
  const SeriesResult series = test::invented_series();
  const CsvTable table = CsvTable::parse(results_csv(series), "results.csv");
  const double rad = series.bars[0].swing->measurement.release_angle_rad->value();
  // One product of one constant: Angle multiplies by the same quotient.
  CHECK_THAT(table.number(0, "release_angle_deg"),
             test::to_rounding(Angle::from_rad(rad).deg(), 1));
}

TEST_CASE("results.csv holds every group, comparison and effect with exactly its numbers",
          "[report]") {
  const SeriesResult series = test::invented_series();
  const CsvTable table = CsvTable::parse(results_csv(series), "results.csv");
  const Ranking& ranking = *series.ranking;
  const auto groups = rows_of(table, "group");
  REQUIRE(groups.size() == ranking.groups.size());
  for (std::size_t i = 0; i < groups.size(); ++i) {
    CHECK(table.number(groups[i], "rank") == static_cast<double>(i + 1));
    CHECK(table.number(groups[i], "mean") == *ranking.groups[i].mean);
    CHECK(table.number(groups[i], "interval_low") == *ranking.groups[i].interval.low);
    CHECK(table.number(groups[i], "u_shared") == ranking.groups[i].u_shared);
  }
  const auto comparisons = rows_of(table, "comparison");
  REQUIRE(comparisons.size() == ranking.comparisons.size());
  for (std::size_t i = 0; i < comparisons.size(); ++i) {
    CHECK(table.number(comparisons[i], "difference") == *ranking.comparisons[i].difference);
    CHECK(table.number(comparisons[i], "ratio_high") ==
          *ranking.comparisons[i].ratio_interval.high);
    CHECK(table.text(comparisons[i], "verdict") == name_of(ranking.comparisons[i].verdict));
  }
  const auto effects = rows_of(table, "effect");
  REQUIRE(effects.size() == ranking.effects.size());
  CHECK(table.number(effects[0], "change") == *ranking.effects[0].change);
}

TEST_CASE("no cell of results.csv runs as a formula", "[report]") {
  SeriesResult series = test::invented_series();
  series.bars[0].specimen.material = "=HYPERLINK(\"x\")";
  const CsvTable table = CsvTable::parse(results_csv(series), "results.csv");
  CHECK(table.text(0, "material") == "'=HYPERLINK(\"x\")");
}

TEST_CASE("results.json holds every bar, group, comparison and effect with exactly its numbers",
          "[report]") {
  const SeriesResult series = test::invented_series();
  const Json json = Json::parse(results_json(series));
  CHECK(json["format"] == "swingloss/results/1");
  CHECK(json["complete"] == false);
  CHECK(json["rendered_or_invented"] == true);
  REQUIRE(json["bars"].size() == series.bars.size());
  for (std::size_t i = 0; i < series.bars.size(); ++i) {
    const Json& bar = json["bars"][i];
    CHECK(bar["id"] == series.bars[i].specimen.id);
    CHECK(bar["energy_J"].is_null() == !series.bars[i].bar.energy_J.has_value());
    if (bar["energy_J"].is_null()) continue;
    CHECK(bar["energy_J"]["value"].get<double>() == series.bars[i].bar.energy_J->value());
    CHECK(bar["energy_J"]["u"].get<double>() == series.bars[i].bar.energy_J->u());
    CHECK(bar["energy_J"]["parts"].size() == series.bars[i].bar.energy_J->parts().size());
  }
  CHECK(json["bars"][12]["problem"]["code"] == "clip-ends-early");
  const Ranking& ranking = *series.ranking;
  REQUIRE(json["groups"].size() == ranking.groups.size());
  for (std::size_t i = 0; i < ranking.groups.size(); ++i) {
    CHECK(json["groups"][i]["mean"].get<double>() == *ranking.groups[i].mean);
    CHECK(json["groups"][i]["bars"].size() == ranking.groups[i].bars.size());
  }
  CHECK(json["comparisons"].size() == ranking.comparisons.size());
  CHECK(json["effects"][1]["change"].get<double>() == *ranking.effects[1].change);
  CHECK(json["verdict"].get<std::vector<std::string>>() == ranking.verdict_sentences);
  CHECK(json["rigs"][0]["moment_Nm"]["value"].get<double>() ==
        series.rigs[0].pendulum.moment_Nm.value());
}

TEST_CASE("results.json survives text that is not UTF-8", "[report]") {
  SeriesResult series = test::invented_series();
  series.bars[0].specimen.note = "\xFF\xFE broken";
  CHECK_NOTHROW(Json::parse(results_json(series)));
}

TEST_CASE("tables of a series without a ranking hold the bars", "[report]") {
  SeriesResult series = test::invented_series();
  series.ranking.reset();
  const CsvTable table = CsvTable::parse(results_csv(series), "results.csv");
  CHECK(table.row_count() == series.bars.size());
  CHECK(Json::parse(results_json(series))["groups"].empty());
}

}  // namespace swingloss
