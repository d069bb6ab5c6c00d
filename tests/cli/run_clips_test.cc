// SPDX-License-Identifier: Apache-2.0
// Series with rendered clips: results, reuse, and clips that cannot be measured.
#include "series_folder.h"
#include "support/test.h"

#include <nlohmann/json.hpp>

using namespace swingloss;
using Catch::Contains;
using Json = nlohmann::json;
using test::SeriesFolder;

namespace {

Json json_of(const std::string& path) { return Json::parse(test::bytes_of(path)); }

RenderTruth render(const SeriesFolder& series,
                   const std::string& name,
                   const RenderScene& scene) {
  std::filesystem::create_directories(series / "clips");
  return render_swing(scene, series / ("clips/" + name));
}

std::string time_of(const std::string& path) {
  return std::to_string(std::filesystem::last_write_time(path).time_since_epoch().count());
}

void check_reuse(const SeriesFolder& series) {
  const std::string stored = series / "results/swings/K1.json";
  const std::string first = test::bytes_of(stored);
  const std::string results = test::bytes_of(series / "results/results.json");
  const std::string written = time_of(stored);
  CHECK(series.run({"--jobs", "1"}).status == 0);
  CHECK(time_of(stored) == written);
  CHECK(test::bytes_of(series / "results/results.json") == results);
  // Damaged, or asked for afresh: measured again, to the same bytes.
  series.write("results/swings/K1.json", first.substr(0, first.size() / 2));
  CHECK(series.run().status == 0);
  CHECK(test::bytes_of(stored) == first);
  const std::string again = time_of(stored);
  CHECK(series.run({"--fresh"}).status == 0);
  CHECK(time_of(stored) != again);
  CHECK(test::bytes_of(stored) == first);
  CHECK(test::bytes_of(series / "results/results.json") == results);
}

}  // namespace

TEST_CASE("run measures a clip, stores it, and does not measure it twice", "[cli]") {
  const SeriesFolder series;
  const RenderTruth truth = render(series, "K1.mp4", test::small_scene());
  series.specimens(test::kTypedRows + "K1,Korvel,as-made,K1.mp4,,,8\n");
  const auto before = series.outside_results();
  const auto end = series.run();
  CAPTURE(end.out, end.err);
  REQUIRE(end.status == 0);
  CHECK_THAT(end.out, Contains("Korvel / annealed"));
  const Json swing = json_of(series / "results/swings/K1.json");
  CHECK(swing.at("outcome") == "broken");
  const Json& energy = swing.at("absorbed_J");
  CHECK_THAT(energy.at("value").get<double>(),
             test::to_uncertainty(*truth.absorbed_J, energy.at("u").get<double>()));
  check_reuse(series);
  CHECK(series.outside_results() == before);
  // Another rig: the stored swing is no longer good.
  std::string heavier = test::kRigJson;
  heavier.replace(heavier.find("2.2"), 3, "4.4");
  series.write("rig.json", heavier);
  REQUIRE(series.run().status == 0);
  const double doubled =
      json_of(series / "results/swings/K1.json").at("raw_absorbed_J").at("value");
  // Raw energy is the moment times a difference of cosines: in proportion, but for the angles,
  // which a fit to the same track with another moment may move within their own doubt.
  CHECK_THAT(doubled,
             test::to_uncertainty(2.0 * swing.at("raw_absorbed_J").at("value").get<double>(),
                                  2.0 * swing.at("raw_absorbed_J").at("u").get<double>()));
}

TEST_CASE("clips that cannot be measured are named, and the good one is finished", "[cli]") {
  const SeriesFolder series;
  RenderScene scene = test::small_scene();
  render(series, "good.mp4", scene);
  scene.faults.no_pendulum = true;
  render(series, "nothing.mp4", scene);
  scene = test::small_scene();
  scene.faults.bump_deg = 6.0;
  scene.faults.bump_at_s = 0.6;
  render(series, "moved.mp4", scene);
  scene = test::small_scene();
  scene.camera.aim_x_m = 0.45;
  scene.camera.distance_m = 0.9;
  render(series, "leaves.mp4", scene);
  scene = test::small_scene();
  scene.length_s = 0.75;
  render(series, "early.mp4", scene);
  series.specimens(
      "K1,Korvel,as-made,good.mp4,,,8\nX1,Korvel,as-made,nothing.mp4,,,8\n"
      "X2,Korvel,as-made,moved.mp4,,,8\nX3,Korvel,as-made,leaves.mp4,,,8\n"
      "X4,Korvel,as-made,early.mp4,,,8\n");
  const auto end = series.run();
  CAPTURE(end.out, end.err);
  CHECK(end.status == 1);
  CHECK_THAT(end.out, Contains("Not measured: 4 of 5 bars"));
  CHECK_THAT(end.out,
             Contains("X1: nothing.mp4: ") && Contains("X2: moved.mp4: ") &&
                 Contains("X3: leaves.mp4: ") && Contains("X4: early.mp4: "));
  CHECK(json_of(series / "results/swings/K1.json").at("outcome") == "broken");
  const Json bars = json_of(series / "results/results.json").at("bars");
  REQUIRE(bars.size() == 5);
  CHECK(json_of(series / "results/swings/X4.json").at("absorbed_J").is_null());
  CHECK(json_of(series / "results/swings/X4.json").at("rise_angle_deg").is_null());
}

TEST_CASE("swing measures one clip, and says what it could not without a rig", "[cli]") {
  const SeriesFolder series;
  const RenderTruth truth = render(series, "K1.mp4", test::small_scene());
  const std::string clip = series / "clips/K1.mp4";
  const auto full = test::run_program({"swing", clip, "--rig", series / "rig.json"});
  CAPTURE(full.out, full.err);
  CHECK(full.status == 0);
  CHECK_THAT(full.out,
             Contains("broken") && Contains("release") && Contains("absorbed") &&
                 Contains("impact speed"));
  const auto angles = test::run_program({"swing", clip, "--json", "-"});
  CHECK(angles.status == 0);
  const Json json = Json::parse(angles.out);
  CHECK(json.at("absorbed_J").is_null());
  CHECK(json.at("clip") == clip);
  const Json& release = json.at("release_angle_deg");
  CHECK_THAT(release.at("value").get<double>(),
             test::to_uncertainty(truth.release_deg, release.at("u").get<double>()));
}
