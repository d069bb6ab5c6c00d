// SPDX-License-Identifier: Apache-2.0
// --json - : the result alone on standard output, from every command that has one.
#include "series_folder.h"
#include "support/test.h"

#include <nlohmann/json.hpp>

using namespace swingloss;
using Json = nlohmann::json;
using test::run_program;
using test::SeriesFolder;

TEST_CASE("run --json - gives results.json and nothing else", "[cli]") {
  const SeriesFolder series;
  series.specimens(test::kTypedRows);
  const auto end = series.run({"--json", "-"});
  CAPTURE(end.err);
  CHECK(end.status == 0);
  CHECK(Json::parse(end.out).at("format") == "swingloss/results/1");
  CHECK(end.out == test::bytes_of(series / "results/results.json"));
}

TEST_CASE("rig --json - gives constants and checks, --write - the rig file", "[cli]") {
  const SeriesFolder series;
  const auto end = run_program({"rig", series / "rig.json", "--json", "-"});
  CHECK(end.status == 0);
  const Json json = Json::parse(end.out);
  CHECK(json.at("format") == "swingloss/rig-checks/1");
  CHECK(json.at("rig").at("moment_Nm").at("value") == 2.2);
  REQUIRE(json.at("checks").size() > 3);
  for (const Json& check : json.at("checks")) {
    CHECK(check.at("id").is_string());
    CHECK(check.at("verdict").is_string());
  }
  const auto written = run_program({"rig", series / "rig.json", "--write", "-"});
  CHECK(Json::parse(written.out).at("format") == "swingloss/rig/1");
}

TEST_CASE("rank, plan and swing give JSON on standard output", "[cli]") {
  const SeriesFolder series;
  series.write("t.csv", "id,material,energy_J\n1,A,1\n2,A,1.1\n3,B,2\n4,B,2.2\n");
  const auto rank = run_program({"rank", series / "t.csv", "--json", "-"});
  CHECK(Json::parse(rank.out).at("format") == "swingloss/results/1");
  const auto plan = run_program({"plan", "--cv", "0.1", "--json", "-"});
  CHECK(Json::parse(plan.out).at("format") == "swingloss/plan/1");
  test::write_one_picture(series / "one.mp4");
  const auto swing = run_program({"swing", series / "one.mp4", "--json", "-"});
  CHECK(swing.status == 1);
  CHECK(Json::parse(swing.out).at("format") == "swingloss/swing/1");
}
