// SPDX-License-Identifier: Apache-2.0
#include "series/read_specimens.h"

#include "core/input_error.h"
#include "support/temp_folder.h"
#include "support/test.h"

using namespace swingloss;
using Catch::Contains;
using test::TempFolder;

namespace {

std::vector<SpecimenRow> read(const std::string& text, const std::string& folder = "") {
  const TempFolder temp;
  return read_specimens(temp.write("bars.csv", text), folder);
}

/// The problem of the only row of a table; empty when it has none.
std::string problem_of_row(const std::string& header, const std::string& row) {
  const auto rows = read(header + "\n" + row + "\n");
  REQUIRE(rows.size() == 1);
  return rows[0].problem ? rows[0].problem->text : "";
}

constexpr const char* kSizes = "id,material,thickness_mm,width_mm,energy_J";

}  // namespace

TEST_CASE("read_specimens reads every column of the contract", "[series]") {
  std::string header;
  for (const std::string& column : specimen_columns())
    header += (header.empty() ? "" : ",") + column;
  const auto rows =
      read(header +
           "\nK1,Korvel,annealed,flat,lab 2,,a.jpg|b.jpg,4.02,8.01,A,H,1.25,0.02,>,"
           "6.1,2024-02-01,2024-03-01,\"fell, once\"\n");
  REQUIRE(rows.size() == 1);
  CHECK_FALSE(rows[0].problem.has_value());
  const Specimen& bar = rows[0].specimen;
  CHECK(bar.row == 2);
  CHECK(bar.id == "K1");
  CHECK(bar.material == "Korvel");
  CHECK(bar.condition == "annealed");
  CHECK(bar.orientation == "flat");
  CHECK(bar.rig == "lab 2");
  CHECK(bar.photos == std::vector<std::string>{"a.jpg", "b.jpg"});
  CHECK(bar.thickness_mm == 4.02);
  CHECK(bar.width_mm == 8.01);
  CHECK(bar.notch == "A");
  CHECK(bar.break_type == BreakType::Hinge);
  CHECK(bar.energy_J == 1.25);
  CHECK(bar.energy_u_J == 0.02);
  CHECK(bar.limit == Limit::Above);
  CHECK(bar.mass_g == 6.1);
  CHECK(bar.made_on == "2024-02-01");
  CHECK(bar.tested_on == "2024-03-01");
  CHECK(bar.note == "fell, once");
}

TEST_CASE("read_specimens takes tables as German spreadsheets write them", "[series]") {
  const auto rows = read("\xEF\xBB\xBFid;material;energy_J\r\nK1;Korvel;1,25\r\n");
  REQUIRE(rows.size() == 1);
  CHECK(rows[0].specimen.energy_J == 1.25);
}

TEST_CASE("one faulty row is its own bar's problem and the others are read", "[series]") {
  const auto rows = read(std::string(kSizes) +
                         "\nK1,Korvel,4,8,1.2\nK2,Korvel,four,-8,1.3\n"
                         "K3,Korvel,4,8,1.1\n");
  REQUIRE(rows.size() == 3);
  CHECK_FALSE(rows[0].problem.has_value());
  CHECK_FALSE(rows[2].problem.has_value());
  REQUIRE(rows[1].problem.has_value());
  // Both faults of the row at once, each with place, found, wanted and next step.
  CHECK_THAT(rows[1].problem->text,
             Contains("row 3, column thickness_mm: found \"four\"; wanted a number"));
  CHECK_THAT(rows[1].problem->text,
             Contains("row 3, column width_mm: found \"-8\"; wanted a number above zero"));
}

TEST_CASE("a width in metres or micrometres is asked about, not taken", "[series]") {
  for (const char* width : {"0.008", "8000"}) {
    const std::string text =
        problem_of_row(kSizes, std::string("K1,Korvel,4,") + width + ",1.2");
    CHECK_THAT(text, Contains("row 2, column width_mm"));
    CHECK_THAT(text, Contains("found \"" + std::string(width) + "\""));
    CHECK_THAT(text, Contains("wanted a number of mm from 0.5 to 60"));
    CHECK_THAT(text, Contains("Did you mean 8 mm"));
  }
}

TEST_CASE("zero is no size and no energy", "[series]") {
  CHECK_THAT(problem_of_row(kSizes, "K1,Korvel,0,8,1.2"), Contains("column thickness_mm"));
  CHECK_THAT(problem_of_row(kSizes, "K1,Korvel,4,8,0"), Contains("column energy_J"));
}

TEST_CASE("an energy's u must be smaller than the energy and not negative", "[series]") {
  constexpr const char* kHeader = "id,material,energy_J,energy_u_J";
  CHECK(problem_of_row(kHeader, "K1,Korvel,1.2,0").empty());
  CHECK_THAT(problem_of_row(kHeader, "K1,Korvel,1.2,-0.1"), Contains("column energy_u_J"));
  CHECK_THAT(problem_of_row(kHeader, "K1,Korvel,1.2,1.2"), Contains("column energy_u_J"));
}

TEST_CASE("a limit is > or < with an energy, a break type one of four letters", "[series]") {
  constexpr const char* kHeader = "id,material,energy_J,limit,break_type";
  CHECK(problem_of_row(kHeader, "K1,Korvel,2,<,n").empty());
  CHECK_THAT(problem_of_row(kHeader, "K1,Korvel,2,>=,N"),
             Contains("column limit: found \">=\""));
  CHECK_THAT(problem_of_row(kHeader, "K1,Korvel,,>,N"), Contains("column limit"));
  CHECK_THAT(problem_of_row(kHeader, "K1,Korvel,2,,complete"), Contains("column break_type"));
}

TEST_CASE("an id that could leave the results folder is refused and replaced", "[series]") {
  for (const char* id : {"../K1",
                         "/etc/x",
                         "a/b",
                         "a\\b",
                         "..",
                         ".hidden",
                         "K1.",
                         "con",
                         "NUL.txt",
                         "lpt1",
                         "a:b",
                         "a*b",
                         "a\tb",
                         "Probe 7"}) {
    CAPTURE(id);
    CHECK_FALSE(is_safe_id(id));
    const auto rows = read("id,material,energy_J\n\"" + std::string(id) + "\",Korvel,1.2\n");
    REQUIRE(rows.size() == 1);
    CHECK(rows[0].specimen.id == "(row 2)");
    REQUIRE(rows[0].problem.has_value());
    CHECK_THAT(rows[0].problem->text, Contains("row 2, column id"));
  }
  CHECK_FALSE(is_safe_id(std::string(65, 'a')));
  CHECK_FALSE(is_safe_id(std::string("a\0b", 3)));
  for (const char* id : {"K1", "K-1_b.2", "M\xC3\xBCller-3", "console", "com", "7+8"}) {
    CAPTURE(id);
    CHECK(is_safe_id(id));
  }
}

TEST_CASE("a bar without material, or with nothing to measure, is named", "[series]") {
  CHECK_THAT(problem_of_row("id,material,energy_J", "K1,,1.2"),
             Contains("row 2, column material"));
  CHECK_THAT(problem_of_row("id,material,energy_J", "K1,Korvel,"), Contains("column energy_J"));
  const TempFolder folder;
  const auto rows = read("id,material\nK1,Korvel\n", folder.path());
  CHECK_THAT(rows.at(0).problem->text,
             Contains("a clip, or an energy_J of another instrument"));
}

TEST_CASE("a clip is looked for in the series folder and in clips", "[series]") {
  const TempFolder folder;
  folder.write("clips/a.mp4", "x");
  folder.write("b.mp4", "x");
  const auto rows = read("id,material,clip\n1,K,clips/a.mp4\n2,K,a.mp4\n3,K,b.mp4\n4,K,c.mp4\n",
                         folder.path());
  CHECK_FALSE(rows[0].problem.has_value());
  CHECK_FALSE(rows[1].problem.has_value());
  CHECK_FALSE(rows[2].problem.has_value());
  REQUIRE(rows[3].problem.has_value());
  CHECK_THAT(rows[3].problem->text, Contains("row 5, column clip: found \"c.mp4\""));
}

TEST_CASE("a clip's name that is longer than names may be is its own bar's problem",
          "[series]") {
  const TempFolder temp;
  const auto rows =
      read("id,material,clip\nA,Korvel," + std::string(300, 'a') + "\n", temp.path());
  REQUIRE(rows.size() == 1);
  REQUIRE(rows[0].problem);
  CHECK_THAT(rows[0].problem->text, Contains("clip"));
}

TEST_CASE("a filmed bar's rig must be a file, a typed bar's may be any name", "[series]") {
  const TempFolder folder;
  folder.write("clips/a.mp4", "x");
  folder.write("lab.json", "{}");
  const auto rows = read(
      "id,material,clip,energy_J,rig\n1,K,a.mp4,,lab.json\n2,K,a.mp4,,lab machine\n"
      "3,K,,1.2,lab machine\n",
      folder.path());
  CHECK_FALSE(rows[0].problem.has_value());
  CHECK_FALSE(rows[2].problem.has_value());
  REQUIRE(rows[1].problem.has_value());
  CHECK_THAT(
      rows[1].problem->text,
      Contains("bars.csv: row 3, column rig: found \"lab machine\"; wanted a rig file in " +
               folder.path()) &&
          Contains("name of an instrument"));
}

TEST_CASE("an id that stands twice stops the series and names both rows", "[series]") {
  CHECK_THROWS_WITH(read("id,material,energy_J\nK1,A,1\nK2,A,1\nk1,B,1\n"),
                    Contains("row 4, column id: found \"k1\"; wanted each id once") &&
                        Contains("row 2, column id"));
}

TEST_CASE("an unknown column stops the series and names the nearest known", "[series]") {
  CHECK_THROWS_WITH(read("id,material,widht_mm\nK1,A,8\n"),
                    Contains("unknown column widht_mm") && Contains("Did you mean width_mm?"));
  CHECK_THROWS_WITH(read("id,energy_J\nK1,1\n"), Contains("no column material"));
}

TEST_CASE("a table without bars is refused", "[series]") {
  CHECK_THROWS_WITH(read("id,material\n"), Contains("a header row and no bars"));
}
