// SPDX-License-Identifier: Apache-2.0
// Second runs of a series: what is said, and what is looked at again.
#include "series_folder.h"
#include "support/test.h"

#include <filesystem>

using namespace swingloss;
using Catch::Contains;
using test::SeriesFolder;
namespace fs = std::filesystem;

namespace {

constexpr const char* kUnchanged = "Nothing was changed since the last run.\n";

}  // namespace

TEST_CASE("a second run says what the first said, a changed series what is new", "[cli]") {
  const SeriesFolder series;
  series.specimens(test::kTypedRows);
  const auto first = series.run();
  REQUIRE(first.status == 0);
  const auto second = series.run({"--json", series / "copy.json"});
  CHECK(second.status == 0);
  CHECK(second.out == first.out);
  CHECK(second.err == kUnchanged);
  CHECK(test::bytes_of(series / "copy.json") ==
        test::bytes_of(series / "results/results.json"));
  const auto to_stdout = series.run({"--json", "-"});  // copy.json is new in the folder
  CHECK_THAT(to_stdout.err, !Contains(kUnchanged));
  CHECK(to_stdout.out == test::bytes_of(series / "copy.json"));
  const auto quiet = series.run({"--quiet"});
  CHECK(quiet.out + quiet.err == "");
  CHECK(series.run({"--monte-carlo"}).err != kUnchanged);
  series.specimens(test::kTypedRows + "T7,Korvel,annealed,,2.01,,8\n");
  const auto changed = series.run();
  CHECK(changed.err != kUnchanged);
  CHECK(changed.out != first.out);
  CHECK(series.run({"--fresh"}).err != kUnchanged);
  CHECK(series.run().err == kUnchanged);
}

TEST_CASE("a result that was taken away or edited is made again", "[cli]") {
  const SeriesFolder series;
  series.specimens(test::kTypedRows);
  (void)series.run();
  const std::string page = series / "results/report.html";
  const std::string whole = test::bytes_of(page);
  fs::remove(page);
  CHECK(series.run().err != kUnchanged);
  CHECK(test::bytes_of(page) == whole);
  series.write("results/results.json", "{}");
  const auto end = series.run({"--json", "-"});
  CHECK(end.out.size() > 100);
  CHECK(end.out == test::bytes_of(series / "results/results.json"));
}

TEST_CASE("a run that could not measure a bar tries again", "[cli]") {
  const SeriesFolder series;
  series.specimens(test::kTypedRows + "X5,Korvel,as-made,gone.mp4,,,8\n");
  const auto first = series.run();
  const auto second = series.run();
  CHECK(first.status == 1);
  CHECK(second.status == 1);
  CHECK(second.out == first.out);
  CHECK_THAT(second.err, !Contains(kUnchanged));
}
