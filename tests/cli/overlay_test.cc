// SPDX-License-Identifier: Apache-2.0
// Overlay films from the command line.
#include "imaging/frame_source.h"
#include "series_folder.h"
#include "support/test.h"

using namespace swingloss;
using Catch::Contains;
using test::run_program;
using test::SeriesFolder;

namespace {

namespace fs = std::filesystem;

int pictures_in(const std::string& path) {
  const auto source = open_clip(path);
  int count = 0;
  while (source->next()) ++count;
  return count;
}

std::string time_of(const std::string& path) {
  return std::to_string(fs::last_write_time(path).time_since_epoch().count());
}

}  // namespace

TEST_CASE("swing --overlay refuses what it cannot film, before measuring", "[cli]") {
  const SeriesFolder series;
  test::write_one_picture(series / "one.mp4");
  const std::vector<std::pair<std::vector<std::string>, std::string>> wrong = {
      {{"one.mp4", "--all", "--overlay", "f.mp4"}, "--overlay with --all"},
      {{"--track", "t.csv", "--overlay", "f.mp4"}, "--overlay with --track"},
      {{"one.mp4", "--sound"}, "--sound without --overlay"},
      {{"one.mp4", "--overlay", "none/f.mp4"}, "no such folder"},
      {{"one.mp4", "--overlay", "f.txt"}, ".txt"},
      {{"one.mp4", "--overlay", "one.mp4"}, "the clip itself"}};
  const std::string before = test::bytes_of(series / "one.mp4");
  for (const auto& [arguments, fault] : wrong) {
    std::vector<std::string> words = {"swing"};
    words.insert(words.end(), arguments.begin(), arguments.end());
    const auto end = run_program(words, series / "");
    CAPTURE(fault, end.err);
    CHECK(end.status == 2);
    CHECK_THAT(end.err, Contains(fault));
  }
  CHECK(test::bytes_of(series / "one.mp4") == before);
  CHECK_FALSE(fs::exists(series / "f.mp4"));
}

TEST_CASE("run --overlays films each bar once, and never shows numbers of another run",
          "[cli]") {
  const SeriesFolder series;
  fs::create_directories(series / "clips");
  (void)render_swing(test::small_scene(), series / "clips/good.mp4");
  series.specimens(test::kTypedRows + "K1,Korvel,as-made,good.mp4,,,8\n");
  const auto first = series.run({"--overlays", "--sound"});
  CAPTURE(first.out, first.err);
  CHECK(first.status == 0);
  const std::string film = series / "results/overlays/K1.mp4";
  REQUIRE(fs::exists(film));
  CHECK(pictures_in(film) > pictures_in(series / "clips/good.mp4"));
  const std::string page = test::bytes_of(series / "results/report.html");
  CHECK_THAT(page, Contains("href=\"overlays/K1.mp4\"") && Contains("The clip has no sound"));

  const std::string written = time_of(film);
  CHECK(series.run({"--overlays", "--sound"}).status == 0);
  CHECK(series.run().status == 0);  // not asked for, still true: stays
  CHECK(time_of(film) == written);

  std::string heavier = test::kRigJson;
  heavier.replace(heavier.find("2.2"), 3, "4.4");
  series.write("rig.json", heavier);
  CHECK(series.run().status == 0);
  CHECK_FALSE(fs::exists(film));
  CHECK_THAT(test::bytes_of(series / "results/report.html"), !Contains("overlays/K1.mp4"));
}
