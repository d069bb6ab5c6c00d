// SPDX-License-Identifier: Apache-2.0
// Series with rendered clips: results, reuse, and clips that cannot be measured.
#include "series_folder.h"
#include "support/test.h"

#include <algorithm>
#include <cmath>

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

/// Five clips: one good, and four that each lack something else. Returns the good one's truth.
RenderTruth render_good_and_bad(const SeriesFolder& series) {
  RenderScene scene = test::small_scene();
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
  scene.length_s = 0.85;  // the arm turns at 1.0 s
  render(series, "early.mp4", scene);
  return render(series, "good.mp4", test::small_scene());
}

std::string stored(const SeriesFolder& series, const std::string& id) {
  return series / ("results/swings/" + id + ".json");
}

std::string time_of(const std::string& path) {
  return std::to_string(std::filesystem::last_write_time(path).time_since_epoch().count());
}

/// Whether some remark of a stored swing has this code and withholds a number.
bool is_refused(const Json& swing, const std::string& code) {
  const Json& remarks = swing.at("remarks");
  return std::any_of(remarks.begin(), remarks.end(), [&](const Json& remark) {
    return remark.at("code") == code && remark.at("severity") == "refusal";
  });
}

void check_bad_clips(const SeriesFolder& series, const std::string& out) {
  const std::map<std::string, std::pair<std::string, std::string>> reasons = {
      {"X1", {"nothing.mp4", "no-pendulum"}},
      {"X2", {"moved.mp4", "camera-moved"}},
      {"X3", {"leaves.mp4", "arm-leaves-picture"}},
      {"X4", {"early.mp4", "turn-not-seen"}}};
  for (const auto& [id, reason] : reasons) {
    CAPTURE(id);
    CHECK_THAT(out, Contains(id + ": " + reason.first + ": "));
    const Json swing = json_of(stored(series, id));
    CHECK(is_refused(swing, reason.second));
    CHECK(swing.at("absorbed_J").is_null());
    CHECK(swing.at("rise_angle_deg").is_null());
  }
}

/// A second run measures nothing anew, unless what was stored is damaged.
void check_reuse(const SeriesFolder& series) {
  const std::string refused = test::bytes_of(stored(series, "X1"));
  const std::string results = test::bytes_of(series / "results/results.json");
  const std::string written = time_of(stored(series, "K1")) + time_of(stored(series, "X1"));
  CHECK(series.run({"--jobs", "1"}).status == 1);
  CHECK(time_of(stored(series, "K1")) + time_of(stored(series, "X1")) == written);
  CHECK(test::bytes_of(series / "results/results.json") == results);
  series.write("results/swings/X1.json", refused.substr(0, refused.size() / 2));
  CHECK(series.run().status == 1);
  CHECK(test::bytes_of(stored(series, "X1")) == refused);
  CHECK(test::bytes_of(series / "results/results.json") == results);
}

/// The command for one clip gives the same as the run, with another number of threads.
void check_swing_command(const SeriesFolder& series) {
  const auto end = test::run_program({"swing",
                                      series / "clips/good.mp4",
                                      "--rig",
                                      series / "rig.json",
                                      "--json",
                                      series / "results/K1.json",
                                      "--jobs",
                                      "1"});
  CAPTURE(end.out, end.err);
  CHECK(end.status == 0);
  CHECK(end.err.empty());
  CHECK_THAT(end.out, Contains("  outcome         broken\n"));
  for (const char* fact :
       {"release", "rise", "absorbed", "friction", "impact speed", "speed drop", "track"}) {
    CHECK_THAT(end.out, Contains(std::string("\n  ") + fact + " "));
  }
  CHECK_THAT(end.out, !Contains("not measured"));
  Json alone = json_of(series / "results/K1.json");
  Json in_series = json_of(stored(series, "K1"));
  CHECK(alone.at("clip") == series / "clips/good.mp4");
  CHECK(in_series.at("clip") == "good.mp4");
  for (Json* json : {&alone, &in_series}) {
    json->erase("clip");
    json->erase("inputs");
  }
  CHECK(alone == in_series);
}

}  // namespace

TEST_CASE("run measures what can be measured, names the rest, and does nothing twice",
          "[cli]") {
  const SeriesFolder series;
  const RenderTruth truth = render_good_and_bad(series);
  series.specimens(
      "K1,Korvel,as-made,good.mp4,,,8\nX1,Korvel,as-made,nothing.mp4,,,8\n"
      "X2,Korvel,as-made,moved.mp4,,,8\nX3,Korvel,as-made,leaves.mp4,,,8\n"
      "X4,Korvel,as-made,early.mp4,,,8\n");
  const auto before = series.outside_results();
  const auto end = series.run();
  CAPTURE(end.out, end.err);
  CHECK(end.status == 1);
  CHECK_THAT(end.out, Contains("Not measured: 4 of 5 bars"));
  check_bad_clips(series, end.out);
  const Json good = json_of(stored(series, "K1"));
  CHECK(good.at("outcome") == "broken");
  const Json& release = good.at("release_angle_deg");
  CHECK_THAT(release.at("value").get<double>(),
             test::to_uncertainty(truth.release_deg, release.at("u").get<double>()));
  const Json& energy = good.at("absorbed_J");
  CHECK_THAT(energy.at("value").get<double>(),
             test::to_uncertainty(*truth.absorbed_J, energy.at("u").get<double>()));
  CHECK(std::filesystem::exists(series / "results/plates/strip-K1.png"));
  check_reuse(series);
  check_swing_command(series);
  CHECK(series.outside_results() == before);
}

TEST_CASE(
    "a stored swing is measured again for another rig, afresh when asked, and never shown "
    "for a clip that is gone",
    "[cli]") {
  const SeriesFolder series;
  RenderScene scene = test::small_scene();
  scene.faults.no_pendulum = true;  // quickly refused, and stored like any other
  scene.length_s = 0.5;
  render(series, "nothing.mp4", scene);
  series.specimens(test::kTypedRows + "X1,Korvel,as-made,nothing.mp4,,,8\n");
  CHECK(series.run().status == 1);
  const std::string first = test::bytes_of(stored(series, "X1"));
  const std::string written = time_of(stored(series, "X1"));
  CHECK(series.run({"--fresh"}).status == 1);
  CHECK(time_of(stored(series, "X1")) != written);
  CHECK(test::bytes_of(stored(series, "X1")) == first);
  std::string heavier = test::kRigJson;
  heavier.replace(heavier.find("2.2"), 3, "4.4");
  series.write("rig.json", heavier);
  CHECK(series.run().status == 1);
  CHECK(json_of(stored(series, "X1")).at("inputs") != Json::parse(first).at("inputs"));
  series.write("clips/nothing.mp4", "no longer a film");
  CHECK(series.run().status == 1);
  CHECK_FALSE(std::filesystem::exists(stored(series, "X1")));
}

TEST_CASE("swing takes a track of angles, and without a rig gives angles and no energy",
          "[cli]") {
  const SeriesFolder series;
  // A pendulum let go at 90 deg with 1 % of its speed lost a second, by the leapfrog rule.
  std::string text = "t_s,angle_deg,u_deg\n";
  double theta = 1.5707963267948966;
  double omega = 0.0;
  for (int i = 0; i < 4000; ++i) {
    if (i % 16 == 0)
      text += std::to_string(i * 1e-3) + "," + std::to_string(theta * 57.29577951308232) +
              ",0.01\n";
    if (i < 300) continue;
    omega -= 1e-3 * (25.0 * std::sin(theta) + 0.01 * omega);
    theta += 1e-3 * omega;
  }
  const auto end =
      test::run_program({"swing", "--track", series.write("track.csv", text), "--json", "-"});
  CAPTURE(end.out.substr(0, 2000), end.err);
  CHECK(end.status == 0);
  const Json json = Json::parse(end.out);
  CHECK(json.at("outcome") == "free-swing");
  CHECK(json.at("absorbed_J").is_null());
  CHECK(json.at("view").is_null());
  const Json& release = json.at("release_angle_deg");
  CHECK_THAT(release.at("value").get<double>(),
             test::to_uncertainty(90.0, release.at("u").get<double>()));
}
