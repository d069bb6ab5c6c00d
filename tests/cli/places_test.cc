// SPDX-License-Identifier: Apache-2.0
// Where a series may lie, and where nothing may be written.
#include "series_folder.h"
#include "support/test.h"

#include <nlohmann/json.hpp>

using namespace swingloss;
using Catch::Contains;
using Json = nlohmann::json;
using test::run_program;
using test::SeriesFolder;
using test::TempFolder;

namespace {

namespace fs = std::filesystem;

/// A scene that is refused quickly and still is a proper clip.
RenderScene empty_scene() {
  RenderScene scene = test::small_scene();
  scene.faults.no_pendulum = true;
  scene.length_s = 0.5;
  return scene;
}

/// Makes folders and files unwritable, and writable again at the end so that they can go.
class ReadOnly {
 public:
  explicit ReadOnly(std::string folder) : folder_(std::move(folder)) { set(false); }
  ReadOnly(const ReadOnly&) = delete;
  ReadOnly& operator=(const ReadOnly&) = delete;
  ~ReadOnly() { set(true); }

 private:
  void set(bool writable) const {
    const auto how = writable ? fs::perm_options::add : fs::perm_options::remove;
    const fs::perms write =
        fs::perms::owner_write | fs::perms::group_write | fs::perms::others_write;
    fs::permissions(folder_, write, how);
    for (const auto& entry : fs::directory_iterator(folder_))
      fs::permissions(entry.path(), write, how);
  }
  std::string folder_;
};

}  // namespace

TEST_CASE("a series may lie under any name: blanks, umlauts, signs, quotes", "[cli]") {
  const TempFolder temp;
  const std::string name = "Meine Stäbe – Ü & 'neu' \"1\" $HOME ; \U0001F528";
  const std::string folder = name + "/";
  temp.write(folder + "series.json",
             R"({ "format": "swingloss/series/1", "title": "Grüße \"1\"" })");
  temp.write(folder + "rig.json", test::kRigJson);
  temp.write(folder + "specimens.csv",
             "id,material,condition,clip,energy_J,limit,width_mm\n" + test::kTypedRows +
                 "Größe1,Kör vel,as-made,mein clip ü.mp4,,,8\n");
  fs::create_directories(temp / (folder + "clips"));
  (void)render_swing(empty_scene(), temp / (folder + "clips/mein clip ü.mp4"));
  const auto end = run_program({"run", name, "--overlays"}, temp.path());
  CAPTURE(end.out, end.err);
  CHECK(end.status == 1);  // the empty clip
  CHECK_THAT(end.out, Contains("Größe1: mein clip ü.mp4: "));
  for (const char* file :
       {"results/report.html", "results/charts/ranking.png", "results/swings/Größe1.json"})
    CHECK(fs::exists(temp / (folder + file)));
}

// Root may write everywhere; so it is also seen that nothing outside results/ was touched.
TEST_CASE("clips in a folder that cannot be written are measured all the same", "[cli]") {
  const SeriesFolder series;
  fs::create_directories(series / "clips");
  (void)render_swing(empty_scene(), series / "clips/nothing.mp4");
  series.specimens(test::kTypedRows + "X1,Korvel,as-made,nothing.mp4,,,8\n");
  const ReadOnly clips(series / "clips");
  const auto before = series.outside_results();
  const auto end = series.run({"--overlays"});
  CAPTURE(end.out, end.err);
  CHECK(end.status == 1);
  CHECK(series.outside_results() == before);
  const Json swing = Json::parse(test::bytes_of(series / "results/swings/X1.json"));
  CHECK(swing.at("outcome") == "unclear");
  const auto alone =
      run_program({"swing", "clips/nothing.mp4", "--overlay", "results/film.mp4"}, series / "");
  CHECK(alone.status == 1);
  CHECK(fs::exists(series / "results/film.mp4"));
  CHECK(series.outside_results() == before);
}

TEST_CASE("ids that point elsewhere write nothing there", "[cli]") {
  const SeriesFolder series;
  fs::create_directories(series / "clips");
  (void)render_swing(empty_scene(), series / "clips/nothing.mp4");
  std::string rows = test::kTypedRows;
  for (const char* id : {"../escaped", "/escaped", "a/../../escaped", "..", "results/escaped"})
    rows += std::string(id) + ",Korvel,as-made,nothing.mp4,,,8\n";
  series.specimens(rows);
  const auto before = series.outside_results();
  const auto end = series.run({"--overlays"});
  CAPTURE(end.out, end.err);
  CHECK(end.status == 1);
  CHECK(series.outside_results() == before);
  CHECK_FALSE(fs::exists("/escaped"));
  for (auto entry = fs::recursive_directory_iterator(series / "results");
       entry != fs::recursive_directory_iterator();
       ++entry)
    CHECK_THAT(entry->path().string(), !Contains("escaped"));
}

TEST_CASE("a link in results is refused before anything is written through it", "[cli]") {
  for (const char* place : {"results", "results/swings", "results/results.csv.part"}) {
    CAPTURE(place);
    const SeriesFolder series;
    const TempFolder elsewhere;
    series.specimens(test::kTypedRows);
    if (std::string(place) != "results") fs::create_directories(series / "results");
    const bool to_file = std::string(place) == "results/results.csv.part";
    const std::string target = to_file ? elsewhere.write("file", "precious") : elsewhere.path();
    fs::create_symlink(target, series / place);
    const auto end = series.run();
    CHECK(end.status == 2);
    CHECK(end.out.empty());
    CHECK_THAT(end.err, Contains("a link to another place") && Contains("results"));
    CHECK(test::bytes_of(elsewhere / "file") == (to_file ? "precious" : ""));
    const auto count =
        std::distance(fs::directory_iterator(elsewhere.path()), fs::directory_iterator());
    CHECK(count == (to_file ? 1 : 0));
  }
}

TEST_CASE("clips of no bytes and of one picture are their bars' problems", "[cli]") {
  const SeriesFolder series;
  series.write("clips/none.mp4", "");
  test::write_one_picture(series / "clips/one.mp4");
  series.specimens(test::kTypedRows + "X1,Korvel,as-made,none.mp4,,,8\n" +
                   "X2,Korvel,as-made,one.mp4,,,8\n");
  const auto end = series.run({"--overlays"});
  CAPTURE(end.out, end.err);
  CHECK(end.status == 1);
  CHECK_THAT(end.out,
             Contains("Not measured: 2 of 8 bars") &&
                 Contains("none.mp4: found an empty file") && Contains("X2: one.mp4: "));
}
