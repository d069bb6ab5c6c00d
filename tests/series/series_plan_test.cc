// SPDX-License-Identifier: Apache-2.0
#include "series/series_plan.h"

#include "core/input_error.h"
#include "support/temp_folder.h"
#include "support/test.h"

using namespace swingloss;
using Catch::Contains;
using test::TempFolder;

namespace {

SeriesPlan read(const std::string& fields) {
  const TempFolder folder;
  folder.write("clips/free.mp4", "x");
  folder.write("series.json", "{ \"format\": \"swingloss/series/1\"" + fields + " }");
  return read_series(folder.path());
}

}  // namespace

TEST_CASE("read_series reads every field", "[series]") {
  const SeriesPlan plan =
      read(R"(, "title": "Annealing", "rig": "rig-2.json", "standard": "ISO 179-1",
    "geometry": "edgewise, notch A", "label": "invented", "free_swings": ["clips/free.mp4"],
    "group_by": ["condition"], "confidence": 0.9, "quantity": "energy", "section_u_mm": 0.05)");
  CHECK(plan.title == "Annealing");
  CHECK(plan.rig == "rig-2.json");
  CHECK(geometry_words(plan) == "made like ISO 179-1, edgewise, notch A");
  CHECK(plan.label == "invented");
  CHECK(plan.free_swings == std::vector<std::string>{"clips/free.mp4"});
  CHECK(plan.ranking.by_condition);
  CHECK_FALSE(plan.ranking.by_orientation);
  CHECK(plan.ranking.confidence == 0.9);
  CHECK(plan.ranking.quantity == Quantity::Energy_J);
  CHECK(plan.section_u_mm == 0.05);
}

TEST_CASE("read_series needs the format and nothing else", "[series]") {
  const SeriesPlan plan = read("");
  CHECK(plan.title.substr(0, 9) == "swingloss");  // the folder's name
  CHECK(plan.rig == "rig.json");
  CHECK(plan.section_u_mm == 0.02);
  CHECK_FALSE(plan.ranking.quantity.has_value());
}

TEST_CASE("read_series names the nearest known field for an unknown one", "[series]") {
  CHECK_THROWS_WITH(read(R"(, "quantitty": "energy")"),
                    Contains("field quantitty") && Contains("Did you mean quantity?"));
  CHECK_THROWS_WITH(read(R"(, "lunch": 12)"),
                    Contains("field lunch") && Contains("Take it out."));
}

TEST_CASE("read_series refuses fields of another kind or out of range", "[series]") {
  CHECK_THROWS_WITH(read(R"(, "title": 7)"), Contains("field title: found 7; wanted a text"));
  CHECK_THROWS_WITH(read(R"(, "confidence": 95)"), Contains("field confidence: found 95"));
  CHECK_THROWS_WITH(read(R"(, "confidence": "0.95")"),
                    Contains("field confidence: found \"0.95\""));
  CHECK_THROWS_WITH(read(R"(, "quantity": "toughness")"), Contains("field quantity"));
  CHECK_THROWS_WITH(read(R"(, "group_by": ["colour"])"), Contains("field group_by"));
  CHECK_THROWS_WITH(read(R"(, "section_u_mm": -1)"), Contains("field section_u_mm"));
  CHECK_THROWS_WITH(read(R"(, "free_swings": ["gone.mp4"])"), Contains("There is no gone.mp4"));
}

TEST_CASE("read_series says where text stops being JSON", "[series]") {
  const TempFolder folder;
  folder.write("series.json", "{ \"format\": \"swingloss/series/1\",\n  title: 3 }");
  CHECK_THROWS_WITH(read_series(folder.path()),
                    Contains("near line 2, column ") && Contains("not JSON"));
}

TEST_CASE("read_series refuses a number that no double can hold", "[series]") {
  CHECK_THROWS_WITH(read(R"(, "ruler_mm": 80e999)"), Contains("a number too large"));
}

TEST_CASE("read_series refuses a clip's name that is longer than names may be", "[series]") {
  CHECK_THROWS_WITH(read(", \"free_swings\": [\"" + std::string(300, 'a') + "\"]"),
                    Contains("field free_swings"));
}

TEST_CASE("read_series tells a wrong format, a file and a missing folder apart", "[series]") {
  const TempFolder folder;
  folder.write("series.json", R"({ "format": "swingloss/rig/1" })");
  CHECK_THROWS_WITH(read_series(folder.path()),
                    Contains("field format: found \"swingloss/rig/1\""));
  CHECK_THROWS_WITH(read_series(folder / "series.json"),
                    Contains("found a file; wanted a series folder"));
  CHECK_THROWS_WITH(read_series(folder / "nowhere"),
                    Contains("found no such folder") && Contains("swingloss new"));
}
