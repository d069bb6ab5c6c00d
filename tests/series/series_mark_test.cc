// SPDX-License-Identifier: Apache-2.0
#include "series/series_mark.h"

#include "support/temp_folder.h"
#include "support/test.h"

#include <string>

using namespace swingloss;

TEST_CASE("the mark of a series tells each of its parts from another", "[series]") {
  const test::TempFolder folder;
  folder.write("series.json", "{}");
  folder.write("specimens.csv", "id,material\n");
  folder.write("results/swings/A1.json", "{}");
  SeriesPlan plan;
  plan.folder = folder.path();
  const std::string first = series_mark(plan);
  CHECK(series_mark(plan) == first);
  // What a run writes beside the records, and the clips, are not of it.
  folder.write("results/results.csv", "id\n");
  folder.write("clips/A1.mp4", "film");
  CHECK(series_mark(plan) == first);
  for (const char* part : {"series.json",
                           "specimens.csv",
                           "masses.csv",
                           "results/corrections.json",
                           "results/free-swings/1.json",
                           "results/swings/A1.json",
                           "results/swings/A2.json",
                           "results/surfaces/A1.json"}) {
    CAPTURE(part);
    const std::string before = series_mark(plan);
    folder.write(part, "other");
    CHECK(series_mark(plan) != before);
  }
}
