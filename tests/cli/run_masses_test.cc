// SPDX-License-Identifier: Apache-2.0
// Weighings through the whole program: which bars were broken too early.
#include "series_folder.h"
#include "support/test.h"

#include <nlohmann/json.hpp>

using namespace swingloss;
using Catch::Contains;
using test::SeriesFolder;

namespace {

/// Three bars of one batch and three of another, broken on the days given.
std::string specimens(const std::vector<std::string>& days) {
  std::string rows = "id,material,condition,energy_J,tested_on\n";
  const char* energies[] = {"1.02", "0.98", "1.05", "2.02", "1.98", "2.05"};
  for (std::size_t i = 0; i < 6; ++i) {
    rows += "B" + std::to_string(i + 1) + (i < 3 ? ",Korvel,dried," : ",Morna,dried,") +
            energies[i] + "," + days.at(i) + "\n";
  }
  return rows;
}

/// A witness of the first batch that takes up water: 10 g and 0.3 g more in the end, by
/// 1 - exp(-t / 5 days), weighed to the tenth of a milligram. What is still to come is 0.1 % of
/// 10 g after 5 ln 30 = 17.0 days.
const std::string kMasses =
    "id,material,condition,date,mass_g\n"
    "W,Korvel,dried,2024-05-01,10.0000\nW,,,2024-05-03,10.0989\nW,,,2024-05-05,10.1652\n"
    "W,,,2024-05-09,10.2394\nW,,,2024-05-13,10.2728\nW,,,2024-05-17,10.2878\n"
    "W,,,2024-05-23,10.2963\n";

nlohmann::json results_of(const SeriesFolder& series) {
  return nlohmann::json::parse(test::bytes_of(series / "results/results.json"));
}

}  // namespace

TEST_CASE("run flags the bars that were broken before their mass had settled", "[cli]") {
  const SeriesFolder series;
  series.write("specimens.csv",
               specimens({"2024-05-06",  // day 5
                          "2024-05-17",  // day 16: a day too early
                          "2024-05-20",  // day 19
                          "2024-05-06",
                          "2024-05-06",
                          "2024-05-06"}));
  series.write("masses.csv", kMasses);
  const auto end = series.run();
  CAPTURE(end.out, end.err);
  REQUIRE(end.status == 0);
  const auto json = results_of(series);
  std::vector<bool> flagged;
  for (const auto& bar : json.at("bars")) flagged.push_back(bar.at("unsettled"));
  CHECK(flagged == std::vector<bool>{true, true, false, false, false, false});
  const auto& judged = json.at("conditioning").at(0).at("judged");
  CHECK(judged.at("law") == "exponential");
  // 5 ln 30 = 17.006 days; masses to half a tenth of a milligram leave a twentieth of a day.
  CHECK_THAT(judged.at("settles_on_day").get<double>(), test::to_truncation(17.006, 0.05));
  CHECK_THAT(end.out,
             Contains("Conditioning") &&
                 Contains("Korvel / dried: B1 and B2 tested before the mass had settled"));
  CHECK_THAT(end.out, !Contains("Morna / dried: B4"));
  const std::string page = test::bytes_of(series / "results/report.html");
  CHECK_THAT(page,
             Contains("id=\"conditioning\"") &&
                 Contains("B1 and B2 tested before the mass had settled"));
}

TEST_CASE("run counts unsettled bars all the same", "[cli]") {
  const SeriesFolder series;
  const std::vector<std::string> early(6, "2024-05-02");
  series.write("specimens.csv", specimens(early));
  REQUIRE(series.run().status == 0);
  const auto without = results_of(series);
  series.write("masses.csv", kMasses);
  REQUIRE(series.run().status == 0);
  const auto with = results_of(series);
  REQUIRE(with.at("groups").size() == 2);
  for (std::size_t g = 0; g < 2; ++g)
    CHECK(with.at("groups").at(g).at("mean") == without.at("groups").at(g).at("mean"));
  CHECK(without.at("conditioning").empty());
  CHECK(with.at("bars").at(0).at("unsettled") == true);
}

TEST_CASE("run refuses weighings of a piece that stands for no bar", "[cli]") {
  const SeriesFolder series;
  series.write("specimens.csv", specimens(std::vector<std::string>(6, "")));
  series.write("masses.csv", "id,day,mass_g\nnobody,0,10\n");
  const auto end = series.run();
  CHECK(end.status == 2);
  CHECK_THAT(end.err, Contains("s/masses.csv: piece nobody"));
}
