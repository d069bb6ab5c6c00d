// SPDX-License-Identifier: Apache-2.0
#include "series/new_series.h"

#include "core/csv.h"
#include "core/input_error.h"
#include "rig/cautions.h"
#include "rig/rig_fields.h"
#include "series/read_specimens.h"
#include "series/series_plan.h"
#include "support/temp_folder.h"
#include "support/test.h"

#include <sstream>

using namespace swingloss;
using Catch::Contains;
using test::TempFolder;

TEST_CASE("a new series is one that read_series takes", "[series]") {
  const TempFolder folder;
  write_new_series(folder / "mine");
  const SeriesPlan plan = read_series(folder / "mine");
  CHECK(plan.title == "My series");
  CHECK(std::filesystem::is_directory(folder / "mine/clips"));
  CHECK(std::filesystem::is_directory(folder / "mine/photos"));
  CHECK_THROWS_WITH(read_specimens(folder / "mine/specimens.csv", folder / "mine"),
                    Contains("a header row and no bars"));
}

TEST_CASE("FIELDS.md explains every column and its example rows can be read", "[series]") {
  const std::string text = fields_text();
  for (const std::string& column : specimen_columns()) {
    CHECK_THAT(text, Contains("`" + column + "`"));
  }
  const std::size_t start = text.find("```\n") + 4;
  const TempFolder folder;
  folder.write("clips/K1.mp4", "x");
  const auto rows = read_specimens(
      folder.write("specimens.csv", text.substr(start, text.find("```", start) - start)),
      folder.path());
  REQUIRE(rows.size() == 2);
  CHECK_FALSE(rows[0].problem.has_value());
  CHECK_FALSE(rows[1].problem.has_value());
  CHECK(rows[1].specimen.limit == Limit::Above);
}

TEST_CASE("FIELDS.md explains every field of series.json", "[series]") {
  const TempFolder folder;
  folder.write("series.json", R"({ "format": "swingloss/series/1", "x": 1 })");
  std::string known;
  try {
    static_cast<void>(read_series(folder.path()));
  } catch (const InputError& error) {
    known = error.fault().wanted;
  }
  REQUIRE(known.substr(0, 7) == "one of ");
  std::istringstream fields(known.substr(7));
  for (std::string field; std::getline(fields >> std::ws, field, ',');) {
    CHECK_THAT(fields_text(), Contains("`" + field + "`"));
  }
}

TEST_CASE("FIELDS.md explains every field of rig.json, and gives the cautions", "[series]") {
  for (const std::string& key : rig_keys())
    CHECK_THAT(fields_text(), Contains("`" + key + "`"));
  for (const std::string& caution : safety_cautions()) {
    CHECK_THAT(fields_text(), Contains(caution));
  }
}

TEST_CASE("clips that are there already get a row each, to be filled in", "[series]") {
  const TempFolder folder;
  folder.write("mine/clips/VID 2.mp4", "clip");
  folder.write("mine/clips/VID-2.mov", "clip");
  folder.write("mine/clips/a.mp4", "clip");
  folder.write("mine/clips/.hidden", "clip");
  write_new_series(folder / "mine");
  const CsvTable table =
      CsvTable::parse(test::bytes_of(folder / "mine/specimens.csv"), "specimens.csv");
  REQUIRE(table.row_count() == 3);
  const std::vector<std::pair<std::string, std::string>> rows = {
      {"VID-2", "VID 2.mp4"}, {"VID-2-2", "VID-2.mov"}, {"a", "a.mp4"}};
  for (std::size_t i = 0; i < rows.size(); ++i) {
    CHECK(table.text(i, "id") == rows[i].first);
    CHECK(table.text(i, "clip") == rows[i].second);
  }
  CHECK(test::bytes_of(folder / "mine/clips/a.mp4") == "clip");
}

TEST_CASE("nothing that is there is overwritten", "[series]") {
  const TempFolder folder;
  folder.write("mine/rig.json", "precious");
  CHECK_THROWS_AS(write_new_series(folder / "mine"), InputError);
  CHECK_THROWS_AS(write_new_series(folder / "mine/rig.json"), InputError);
  CHECK(test::bytes_of(folder / "mine/rig.json") == "precious");
  CHECK_FALSE(std::filesystem::exists(folder / "mine/series.json"));
}
