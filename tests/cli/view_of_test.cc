// SPDX-License-Identifier: Apache-2.0
// A free swing that was filmed from the same place tells how the camera stood.
#include "series_folder.h"
#include "support/test.h"

#include <cmath>

#include <nlohmann/json.hpp>

using namespace swingloss;
using Catch::Contains;
using Json = nlohmann::json;
using test::run_program;
using test::SeriesFolder;

namespace {

bool has_remark(const Json& swing, const std::string& code) {
  for (const Json& remark : swing.at("remarks"))
    if (remark.at("code") == code) return true;
  return false;
}

double tilt_u_deg(const Json& swing) {
  return swing.at("view").at("tilt_deg").at("u").get<double>();
}

}  // namespace

TEST_CASE("swing --view-of takes over the tilt that a free swing shows", "[cli]") {
  const SeriesFolder series;
  RenderScene bar = test::small_scene();
  bar.design_seed = 5;
  RenderScene free = bar;
  free.absorbed_J.reset();
  free.length_s = 5.0;
  free.seed = 2;
  RenderScene aside = bar;
  aside.camera.aim_x_m += 0.05;
  (void)render_swing(free, series / "free.mp4");
  (void)render_swing(bar, series / "bar.mp4");
  (void)render_swing(aside, series / "aside.mp4");
  const auto measured = [&](const std::string& clip, std::vector<std::string> more) {
    more.insert(more.begin(), {"swing", clip, "--json", clip + ".json"});
    const auto end = run_program(more, series / "");
    CAPTURE(clip, end.out, end.err);
    REQUIRE(end.status == 0);
    return Json::parse(test::bytes_of(series / (clip + ".json")));
  };
  (void)measured("free.mp4", {});
  const Json alone = measured("bar.mp4", {});
  CHECK_FALSE(has_remark(alone, "view-recalled"));
  const Json with = measured("bar.mp4", {"--view-of", "free.mp4.json"});
  CHECK(has_remark(with, "view-recalled"));
  CHECK(tilt_u_deg(with) < 0.7 * tilt_u_deg(alone));
  for (const char* angle : {"release_angle_deg", "rise_angle_deg"})
    CHECK(with.at(angle).at("u").get<double>() <= 1.02 * alone.at(angle).at("u").get<double>());
  const Json elsewhere = measured("aside.mp4", {"--view-of", "free.mp4.json"});
  CHECK_FALSE(has_remark(elsewhere, "view-recalled"));
  // A series does so by itself.
  series.write("series.json",
               R"({ "format": "swingloss/series/1", "free_swings": ["free.mp4"] })");
  series.specimens(test::kTypedRows + "K1,Korvel,as-made,bar.mp4,,,8\n");
  const auto end = series.run();
  CAPTURE(end.out, end.err);
  REQUIRE(end.status == 0);
  const Json in_series = Json::parse(test::bytes_of(series / "results/swings/K1.json"));
  CHECK(has_remark(in_series, "view-recalled"));
}

TEST_CASE("swing --view-of refuses what tells no view, with the next step", "[cli]") {
  const SeriesFolder series;
  std::string table = "t_s,angle_deg\n";
  for (int i = 0; i < 300; ++i)
    table += std::to_string(0.01 * i) + "," + std::to_string(100.0 * std::cos(4.2 * 0.01 * i)) +
             "\n";
  series.write("track.csv", table);
  (void)run_program({"swing", "--track", "track.csv", "--json", "typed.json"}, series / "");
  const auto typed = run_program({"swing", "bar.mp4", "--view-of", "typed.json"}, series / "");
  CHECK(typed.status == 2);
  CHECK_THAT(typed.err, Contains("typed.json") && Contains("free swing"));
  const auto both =
      run_program({"swing", "--track", "track.csv", "--view-of", "typed.json"}, series / "");
  CHECK(both.status == 2);
  CHECK_THAT(both.err, Contains("--view-of with --track"));
  const auto missing = run_program({"swing", "bar.mp4", "--view-of", "none.json"}, series / "");
  CHECK(missing.status == 2);
  CHECK_THAT(missing.err, Contains("none.json"));
}
