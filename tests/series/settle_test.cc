// SPDX-License-Identifier: Apache-2.0
#include "series/settle.h"

#include "core/input_error.h"
#include "core/number_text.h"
#include "support/temp_folder.h"
#include "support/test.h"

#include <cmath>

using namespace swingloss;
using Catch::Contains;
using test::TempFolder;

namespace {

/// Masses that approach 103 g from 100 g with a time constant of ten days, weighed for
/// `days` days.
std::string approach_rows(const std::string& id, int days) {
  std::string rows;
  for (int day = 0; day <= days; day += 2) {
    const double mass_g = 100.0 + 3.0 * (1.0 - std::exp(-day / 10.0));
    rows += id + ",,2024-03-" + (day + 1 < 10 ? "0" : "") + std::to_string(day + 1) + "," +
            number_text(mass_g) + "\n";
  }
  return rows;
}

BarResult bar(const std::string& id, const std::string& tested_on) {
  BarResult result;
  result.specimen.id = result.bar.id = id;
  result.specimen.material = result.bar.material = "Korvel";
  result.specimen.condition = "conditioned";
  result.specimen.tested_on = tested_on;
  return result;
}

}  // namespace

TEST_CASE("bars broken before their piece had settled are marked", "[series]") {
  const TempFolder folder;
  const std::string path =
      folder.write("masses.csv", "id,material,date,mass_g\n" + approach_rows("B1", 28));
  std::vector<BarResult> bars = {bar("B1", "2024-03-10"), bar("B2", "2024-03-10")};
  const auto records = settle_bars(path, bars);
  REQUIRE(records.size() == 1);
  CHECK(records[0].bars == std::vector<std::size_t>{0});
  REQUIRE(records[0].judged.has_value());
  CHECK(records[0].judged->better == ApproachLaw::Exponential);
  // Within 0.1 % of 100 g when 3 exp(-t/10) = 0.1: t = 10 ln 30 = 34.01 days; the readings are
  // exact, so only the search for the time constant rounds.
  CHECK_THAT(*records[0].judged->settles_at_s / 86400.0,
             test::to_truncation(10.0 * std::log(30.0), 0.01));
  CHECK(bars[0].bar.unsettled);
  CHECK(bars[0].remarks.front().code == "unsettled");
  CHECK_FALSE(bars[1].bar.unsettled);
  std::vector<BarResult> later = {bar("B1", "2024-04-20")};
  (void)settle_bars(path, later);
  CHECK_FALSE(later[0].bar.unsettled);
}

TEST_CASE("a witness piece speaks for the bars of its material and condition", "[series]") {
  const TempFolder folder;
  const std::string path = folder.write(
      "masses.csv",
      "id,material,condition,day,mass_g\nW,Korvel,conditioned,0,10\nW,,,3,10.2\nW,,,9,10.5\n");
  std::vector<BarResult> bars = {bar("B1", "5"), bar("B2", "")};
  bars.push_back(bar("B3", "5"));
  bars[2].specimen.condition = "dried";
  const auto records = settle_bars(path, bars);
  CHECK(records[0].bars == std::vector<std::size_t>{0, 1});
  CHECK(bars[0].bar.unsettled);
  CHECK(bars[1].bar.unsettled);
  CHECK_FALSE(bars[2].bar.unsettled);
}

TEST_CASE("a bar that was weighed itself is not spoken for by a witness", "[series]") {
  const TempFolder folder;
  const std::string rows = "id,material,day,mass_g\n";
  const std::string witness = "W,Korvel,0,10\nW,,3,10.2\nW,,9,10.5\n";
  const std::string own = "B1,,0,10\nB1,,9,10\nB1,,20,10\n";
  for (const std::string& table : {rows + witness + own, rows + own + witness}) {
    CAPTURE(table);
    std::vector<BarResult> bars = {bar("B1", "5"), bar("B2", "5")};
    (void)settle_bars(folder.write("masses.csv", table), bars);
    CHECK_FALSE(bars[0].bar.unsettled);
    CHECK(bars[1].bar.unsettled);
  }
}

TEST_CASE("days are counted from the piece's first row, whatever day that has", "[series]") {
  const TempFolder folder;
  // 10 g that become 10.5 g, 1 - exp(-t/5): settled on day 5 ln 50 = 19.6 from the first row.
  std::string rows = "id,material,day,mass_g\n";
  for (const int day : {0, 2, 4, 8, 12, 16, 24}) {
    rows += "W,Korvel," + std::to_string(100 + day) + "," +
            number_text(10.5 - 0.5 * std::exp(-day / 5.0)) + "\n";
  }
  std::vector<BarResult> bars = {bar("B1", "118"), bar("B2", "122"), bar("B3", "20")};
  (void)settle_bars(folder.write("masses.csv", rows), bars);
  CHECK(bars[0].bar.unsettled);
  CHECK_FALSE(bars[1].bar.unsettled);
  CHECK(bars[2].bar.unsettled);
  CHECK_THAT(bars[0].remarks.front().text,
             Contains("weighings of W") && Contains("on day 18, settled from day 20"));
}

TEST_CASE("a bar broken after a record that was still on its way is not judged", "[series]") {
  const TempFolder folder;
  // Two weighings tell no law: only that the mass had not settled by day 9.
  const std::string path =
      folder.write("masses.csv", "id,material,day,mass_g\nW,Korvel,0,10\nW,,9,10.5\n");
  std::vector<BarResult> bars = {bar("B1", "9"), bar("B2", "10"), bar("B3", "")};
  (void)settle_bars(path, bars);
  CHECK(bars[0].bar.unsettled);
  CHECK_FALSE(bars[1].bar.unsettled);
  CHECK(bars[2].bar.unsettled);
}

TEST_CASE("sizes are compared with the drawing", "[series]") {
  const TempFolder folder;
  const std::string path =
      folder.write("masses.csv", "id,day,size_mm,design_mm\nB1,0,79.2,80\nB1,4,79.6,\n");
  std::vector<BarResult> bars = {bar("B1", "")};
  const auto records = settle_bars(path, bars);
  REQUIRE(records[0].size_changes.size() == 2);
  // 79.2/80 - 1: one division and one subtraction near 1, each to half an ulp of 1.
  CHECK_THAT(records[0].size_changes[0], test::to_truncation(-0.01, 2.3e-16));
  CHECK_FALSE(records[0].judged.has_value());
}

TEST_CASE("weighings that cannot be are refused with their row", "[series]") {
  const TempFolder folder;
  const auto refusal = [&](const std::string& rows) -> std::string {
    const std::string path =
        folder.write("masses.csv", "id,material,date,day,mass_g,size_mm\n" + rows);
    std::vector<BarResult> bars = {bar("B1", "")};
    try {
      (void)settle_bars(path, bars);
    } catch (const InputError& error) {
      return error.what();
    }
    return "";
  };
  CHECK_THAT(refusal("B1,,soon,,10,\n"),
             Contains("row 2, column date") && Contains("\"soon\""));
  CHECK_THAT(refusal("B1,,,,10,\n"), Contains("row 2, column day"));
  CHECK_THAT(refusal("B1,,,0,-1,\n"), Contains("row 2, column mass_g"));
  CHECK_THAT(refusal("B1,,,3,10,\nB1,,,3,11,\n"), Contains("row 3, column mass_g"));
  CHECK_THAT(refusal("B1,,2024-03-01,,10,\nB1,,,3,11,\n"), Contains("row 3, column date"));
  CHECK_THAT(refusal("B1,,,0,,79\n"), Contains("design_mm"));
  CHECK_THAT(refusal("X9,,,0,10,\n"), Contains("piece X9"));
  CHECK(refusal("X9,Korvel,,0,10,\n").empty());
}
