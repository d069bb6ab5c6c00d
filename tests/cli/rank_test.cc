// SPDX-License-Identifier: Apache-2.0
#include "support/run_program.h"
#include "support/test.h"

#include <nlohmann/json.hpp>

using namespace swingloss;
using Catch::Contains;
using test::run_program;
using test::TempFolder;

namespace {

// Two groups that lie far apart and one bar that did not break.
constexpr const char* kTable =
    "id,material,condition,energy_J,limit,thickness_mm,width_mm\n"
    "A1,Korvel,as-made,1.02,,4,8\nA2,Korvel,as-made,0.98,,4,8\nA3,Korvel,as-made,1.05,,4,8\n"
    "B1,Korvel,annealed,2.52,,4,8\nB2,Korvel,annealed,2.48,,4,8\nB3,Korvel,annealed,4,>,4,8\n";

}  // namespace

TEST_CASE("rank prints groups, letters and a verdict", "[cli]") {
  const TempFolder folder;
  folder.write("values.csv", kTable);
  const auto end = run_program({"rank", "values.csv"}, folder.path());
  CHECK(end.status == 0);
  CHECK(end.err.empty());
  CHECK_THAT(end.out,
             Contains("kJ/m") && Contains("Korvel / annealed") && Contains("2 + 1 above") &&
                 Contains("letters") && Contains("Verdict"));
  CHECK(end.out.find("Korvel / annealed") < end.out.find("Korvel / as-made"));
}

TEST_CASE("rank --json - writes nothing but JSON to stdout, the same each time", "[cli]") {
  const TempFolder folder;
  folder.write("values.csv", kTable);
  const auto end = run_program({"rank", "values.csv", "--json", "-"}, folder.path());
  CHECK(end.status == 0);
  const auto json = nlohmann::json::parse(end.out);
  CHECK(json.at("groups").size() == 2);
  CHECK(json.at("bars").size() == 6);
  CHECK(run_program({"rank", "values.csv", "--json", "-", "--jobs", "1"}, folder.path()).out ==
        end.out);
  CHECK(
      run_program({"rank", "values.csv", "--json", "r.json", "-q"}, folder.path()).out.empty());
  CHECK(test::bytes_of(folder / "r.json") == end.out);
}

TEST_CASE("rank names a faulty row, ranks the others, and ends with 1", "[cli]") {
  const TempFolder folder;
  folder.write("values.csv", std::string(kTable) + "B4,Korvel,annealed,much,,4,8\n");
  const auto end = run_program({"rank", "values.csv"}, folder.path());
  CHECK(end.status == 1);
  CHECK_THAT(end.out,
             Contains("values.csv: row 8, column energy_J: found \"much\"; wanted a number"));
  CHECK_THAT(end.out, Contains("Korvel / annealed"));
  const auto quiet = run_program({"rank", "values.csv", "--quiet"}, folder.path());
  CHECK(quiet.status == 1);
  CHECK(quiet.out.empty());
  CHECK_THAT(quiet.err, Contains("B4: ") && Contains("row 8"));
}

TEST_CASE("rank stops at an unknown column and at an id that stands twice", "[cli]") {
  const TempFolder folder;
  folder.write("column.csv", "id,material,energyJ\nA1,Korvel,1\n");
  const auto column = run_program({"rank", "column.csv"}, folder.path());
  CHECK(column.status == 2);
  CHECK(column.out.empty());
  CHECK_THAT(column.err, Contains("column.csv") && Contains("Did you mean energy_J?"));
  folder.write("twice.csv", "id,material,energy_J\nA1,Korvel,1\nA1,Korvel,2\n");
  const auto twice = run_program({"rank", "twice.csv"}, folder.path());
  CHECK(twice.status == 2);
  CHECK_THAT(twice.err, Contains("row 3, column id") && Contains("rename one of the two"));
}

TEST_CASE("rank of a table in which no row can be used says so", "[cli]") {
  const TempFolder folder;
  folder.write("values.csv", "id,material,energy_J\nA1,Korvel,\nA2,Korvel,-1\n");
  const auto end = run_program({"rank", "values.csv"}, folder.path());
  CHECK(end.status == 1);
  CHECK_THAT(end.out,
             Contains("No bar could be measured") && Contains("Not measured: 2 of 2 bars"));
}
