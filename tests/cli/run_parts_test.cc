// SPDX-License-Identifier: Apache-2.0
// One series measured in parts: at once on one folder, on copies, and put together again.
#include "series_folder.h"
#include "support/test.h"

#include <thread>

using namespace swingloss;
using Catch::Contains;
using test::SeriesFolder;
namespace fs = std::filesystem;

namespace {

void film(const SeriesFolder& series, const std::string& name, double absorbed_J) {
  RenderScene scene = test::small_scene();
  scene.absorbed_J = absorbed_J;
  fs::create_directories(series / "clips");
  render_swing(scene, series / ("clips/" + name));
}

/// Filmed bars that can be measured, one that cannot, clips that are none, a free swing that is
/// no film, a photograph that is none, and typed bars.
void fill(const SeriesFolder& series) {
  series.write("series.json",
               R"({ "format": "swingloss/series/1", "title": "Test",
                    "free_swings": ["sound.wav"] })");
  film(series, "one.mp4", 0.8);
  film(series, "two.mp4", 0.9);
  series.write("clips/text.mp4", "no film");
  series.write("clips/sound.wav", test::silent_wav());
  test::write_one_picture(series / "clips/picture.mp4");
  series.write("photos/F1.png", "no picture");
  series.write("specimens.csv",
               "id,material,condition,clip,energy_J,photos,width_mm\n"
               "K1,Korvel,as-made,one.mp4,,F1.png,8\nK2,Korvel,as-made,two.mp4,,,8\n"
               "X1,Korvel,as-made,text.mp4,,,8\nX2,Korvel,as-made,sound.wav,,,8\n"
               "X3,Korvel,as-made,picture.mp4,,,8\nT1,Korvel,annealed,,1.02,,8\n"
               "T2,Korvel,annealed,,0.98,F1.png,8\n");
}

std::map<std::string, std::string> results_of(const SeriesFolder& series) {
  std::map<std::string, std::string> files;
  const fs::path root(series / "results");
  for (const auto& entry : fs::recursive_directory_iterator(root)) {
    // settled.json tells sizes and times of these very files.
    if (!entry.is_regular_file() || entry.path().filename() == "settled.json") continue;
    files[fs::relative(entry.path(), root).string()] = test::bytes_of(entry.path().string());
  }
  return files;
}

void check_same(const SeriesFolder& parts, const SeriesFolder& single) {
  const auto wanted = results_of(single);
  const auto found = results_of(parts);
  CHECK(wanted.count("report.html") == 1);
  for (const auto& [name, bytes] : wanted) {
    CAPTURE(name);
    REQUIRE(found.count(name) == 1);
    CHECK(found.at(name) == bytes);
  }
  CHECK(found.size() == wanted.size());
}

test::ProgramEnd collect(const SeriesFolder& series) {
  return test::run_program({"collect", "s"}, fs::path(series / "").parent_path().parent_path());
}

void copy_inputs(const SeriesFolder& from, const SeriesFolder& to) {
  fs::copy(
      from / "", to / "", fs::copy_options::recursive | fs::copy_options::overwrite_existing);
}

}  // namespace

TEST_CASE("parts at work at once on one folder, collected, are what a single run writes",
          "[cli]") {
  const SeriesFolder parts;
  fill(parts);
  const SeriesFolder single;
  copy_inputs(parts, single);
  const SeriesFolder copied;
  copy_inputs(parts, copied);
  const auto before = parts.outside_results();

  const auto early = collect(parts);
  CHECK(early.status == 2);
  CHECK_THAT(early.err,
             Contains("s: results: found 4 of 7 bars not measured yet") &&
                 Contains(": K1, K2, X3 and T2; wanted a record of every bar.") &&
                 Contains("swingloss run s"));
  CHECK_FALSE(fs::exists(parts / "results"));

  std::vector<test::ProgramEnd> ends(4);
  std::vector<std::thread> machines;
  for (std::size_t i = 0; i < ends.size(); ++i) {
    machines.emplace_back([&, i] {
      // The fourth machine does the first's share as well.
      const std::string share = std::to_string(i == 3 ? 1 : i + 1) + "/3";
      ends[i] = parts.run({"--only", share, "--jobs", "1"});
    });
  }
  for (std::thread& machine : machines) machine.join();
  CHECK_THAT(ends[0].out, Contains("Part 1 of 3: 3 of 7 bars are this part's."));
  CHECK_THAT(ends[2].out, Contains("X1: ") && Contains("swingloss collect s\n"));
  CHECK_FALSE(fs::exists(parts / "results/report.html"));

  const auto end = collect(parts);
  const auto alone = single.run();
  CAPTURE(end.err, alone.err);
  CHECK(end.status == 1);
  CHECK(alone.status == 1);
  CHECK(end.out == alone.out);
  check_same(parts, single);
  CHECK(parts.outside_results() == before);

  // The same on two copies of the folder; a part that is lost is named.
  CHECK(copied.run({"--only", "1/2"}).status == 1);
  CHECK(collect(copied).status == 2);
  const SeriesFolder second;
  copy_inputs(single, second);
  fs::remove_all(second / "results");
  CHECK(second.run({"--only", "2/2"}).status == 1);
  fs::copy(second / "results",
           copied / "results",
           fs::copy_options::recursive | fs::copy_options::skip_existing);
  CHECK(collect(copied).status == 1);
  check_same(copied, single);
}

TEST_CASE("collect does not take records of another rig for those of this one", "[cli]") {
  const SeriesFolder series;
  fs::create_directories(series / "clips");
  test::write_one_picture(series / "clips/picture.mp4");
  series.specimens(test::kTypedRows + "X1,Korvel,as-made,picture.mp4,,,8\n");
  CHECK(series.run({"--only", "1/1"}).status == 1);
  CHECK(collect(series).status == 1);
  series.write("rig.json", test::kRigJson + "\n");
  const auto end = collect(series);
  CHECK(end.status == 2);
  CHECK_THAT(end.err, Contains("found 1 of 7 bars not measured yet") && Contains("X1"));
}

TEST_CASE("a part is two whole numbers, and ranks nothing", "[cli]") {
  const SeriesFolder series;
  series.specimens(test::kTypedRows);
  for (const char* share :
       {"", "1", "0/2", "3/2", "1/", "/2", "1.5/2", "a/b", "1/2/3", "-1/2"}) {
    CAPTURE(share);
    const auto end = series.run({"--only", share});
    CHECK(end.status == 2);
    CHECK_THAT(end.err, Contains("--only") && Contains("from 1 to N"));
  }
  const auto both = series.run({"--only", "1/2", "--charts", "4k"});
  CHECK(both.status == 2);
  CHECK_FALSE(fs::exists(series / "results"));
}

TEST_CASE("what a killed run left half written is taken away by the next", "[cli]") {
  const SeriesFolder series;
  series.specimens(test::kTypedRows);
  const std::string half = "results/swings/K1.json.part-node7-4711-3";
  series.write(half, "{ \"format\": ");
  series.write("results/notes.txt.part", "the user's own");
  CHECK(series.run().status == 0);
  CHECK_FALSE(fs::exists(series / half));
  CHECK(fs::exists(series / "results/notes.txt.part"));
}
