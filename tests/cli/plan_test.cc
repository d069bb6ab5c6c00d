// SPDX-License-Identifier: Apache-2.0
#include "cli/series_folder.h"
#include "support/test.h"

#include <nlohmann/json.hpp>

using namespace swingloss;
using Catch::Contains;
using test::run_program;
using test::TempFolder;

namespace {

constexpr const char* kTable =
    "id,material,energy_J,thickness_mm,width_mm\n"
    "A1,Korvel,1.02,4,8\nA2,Korvel,0.98,4,8\nA3,Korvel,1.05,4,8\nA4,Korvel,0.99,4,8\n"
    "B1,Morna,2.52,4,8\nB2,Morna,2.48,4,8\nB3,Morna,2.60,4,8\n";

}  // namespace

TEST_CASE("plan gives R's number of bars", "[cli][truth]") {
  // R 4.2.2, help page of power.t.test: power = .90, delta = 1, sd = 1 gives n = 22.02110.
  const auto end = run_program(
      {"plan", "--cv", "0.1", "--difference", "0.1", "--power", "0.9", "--json", "-"});
  CHECK(end.status == 0);
  const auto json = nlohmann::json::parse(end.out);
  CHECK(json.at("format") == "swingloss/plan/1");
  CHECK(json.at("bars_for_difference").at(0).at("bars").at(0) == 23);
  CHECK(json.at("hammers").empty());
}

TEST_CASE("plan without anything plans with a usual scatter and says so", "[cli]") {
  const auto end = run_program({"plan"});
  CHECK(end.status == 0);
  CHECK_THAT(end.out, Contains("a usual figure for broken bars") && Contains("difference"));
}

TEST_CASE("plan reads scatter, precision and energies off a table", "[cli]") {
  const TempFolder folder;
  folder.write("values.csv", kTable);
  folder.write("rig.json", test::kRigJson);
  const auto end = run_program(
      {"plan", "values.csv", "--rig", "rig.json", "--release-deg", "120"}, folder.path());
  CHECK(end.status == 0);
  CHECK_THAT(end.out,
             Contains("may well have") && Contains("Precision already reached") &&
                 Contains("Korvel") && Contains("smallest and largest energy"));
  // M (1 - cos 120 deg) = 2.2 * 1.5 = 3.3 J; 2.6 J is 79 % of it, 0.98 J is 30 %.
  CHECK_THAT(end.out, Contains("3.30") && Contains("test rig (take this one)"));
}

TEST_CASE("plan says when no release suits", "[cli]") {
  const TempFolder folder;
  folder.write("rig.json", test::kRigJson);
  const auto end = run_program({"plan", "--rig", "rig.json", "--energy", "9"}, folder.path());
  CHECK(end.status == 0);
  CHECK_THAT(end.out, Contains("none suits") && Contains("Too small"));
}

TEST_CASE("plan works on the results of a series, without its footage", "[cli]") {
  const test::SeriesFolder series;
  series.specimens(test::kTypedRows);
  REQUIRE(series.run().status == 0);
  std::filesystem::remove(series / "specimens.csv");
  const auto end = run_program({"plan", series / "", "--json", "-"});
  CHECK(end.status == 0);
  const auto json = nlohmann::json::parse(end.out);
  CHECK(json.at("reached").size() == 2);
  CHECK(json.at("reached").at(0).at("bars") == 3);
}

TEST_CASE("plan says what it lacks, and how a percentage is written", "[cli]") {
  const TempFolder folder;
  folder.write("rig.json", test::kRigJson);
  const auto no_energy = run_program({"plan", "--rig", "rig.json"}, folder.path());
  CHECK(no_energy.status == 0);
  CHECK_THAT(no_energy.out, Contains("--energy LOW HIGH"));
  const auto percent = run_program({"plan", "--difference", "10"});
  CHECK(percent.status == 2);
  CHECK_THAT(percent.err, Contains("Write 0.10 for 10 %"));
}

TEST_CASE("plan draws its charts", "[cli]") {
  const TempFolder folder;
  folder.write("rig.json", test::kRigJson);
  const auto end = run_program(
      {"plan", "--rig", "rig.json", "--energy", "0.5", "2", "--charts", "plan"}, folder.path());
  CHECK(end.status == 0);
  for (const char* name : {"bars", "precision", "release-1"}) {
    const std::string stem = folder / (std::string("plan/plan-") + name);
    CHECK_THAT(test::bytes_of(stem + ".svg"), Contains("</svg>"));
    CHECK(test::bytes_of(stem + ".png").substr(1, 3) == "PNG");
  }
}

TEST_CASE("plan refuses what is no plan", "[cli]") {
  CHECK(run_program({"plan", "--cv", "-1"}).status == 2);
  CHECK(run_program({"plan", "nowhere.csv"}).status == 2);
  CHECK_THAT(run_program({"plan", "nowhere.csv"}).err, Contains("nowhere.csv"));
}
