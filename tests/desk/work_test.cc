// SPDX-License-Identifier: Apache-2.0
// A run that is stopped, films that are asked for, and clips that were not measured yet.
#include "desk_series.h"
#include "render/render_swing.h"
#include "support/test.h"

#include <filesystem>
#include <set>
#include <thread>

namespace swingloss {
namespace {

using Json = nlohmann::json;
using test::ask;
using test::data_of;

constexpr const char* kRig = R"({ "format": "swingloss/rig/1", "name": "east rig",
  "moment_Nm": { "value": 2.2, "u": 0.01 }, "reduced_length_m": { "value": 0.33, "u": 0.001 },
  "friction": { "dry_Nm": { "value": 0.004, "u": 0.0002 } },
  "gravity_m_per_s2": { "value": 9.80665, "u": 0.0001 } })";

/// Two filmed bars, the second clip in a folder with blanks, letters beyond ASCII and a
/// picture.
class FilmedSeries : public test::DeskSeries {
 public:
  FilmedSeries()
      : DeskSeries(
            "id,material,clip,thickness_mm,width_mm\nK1,Korvel,k1.mp4,4,8\n"
            "K2,Korvel,k 2 ü 🔨.mp4,4,8\n") {
    folder().write("rig.json", kRig);
    std::filesystem::create_directories(folder() / "clips");
    RenderScene scene;
    scene.camera.width_px = 320;
    scene.camera.height_px = 180;
    scene.hold_s = 0.25;
    scene.length_s = 1.6;
    scene.absorbed_J = 0.8;
    render_swing(scene, folder() / "clips/k1.mp4");
    std::filesystem::copy_file(folder() / "clips/k1.mp4", folder() / "clips/k 2 ü 🔨.mp4");
  }
};

Json bar_of(Desk& desk, const std::string& id) { return data_of(desk, "/api/bar?id=" + id); }

}  // namespace

TEST_CASE("a run under way is stopped, keeps what it measured, and goes on from there",
          "[desk]") {
  const FilmedSeries series;
  RunOptions options;
  options.jobs = 1;
  std::set<std::string> measured;
  options.progress = [&](const BarProgress& progress) { measured.insert(progress.id); };
  options.stopped = [&] { return !measured.empty(); };
  const SeriesPlan plan = read_series(series.folder().path());
  CHECK_THROWS_AS(run_series(plan, options), RunStopped);
  CHECK(measured == std::set<std::string>{"K1"});
  CHECK(std::filesystem::exists(series.folder() / "results/swings/K1.json"));
  CHECK_FALSE(std::filesystem::exists(series.folder() / "results/swings/K2.json"));

  Desk desk(series.options());
  ask(desk, "POST", "/api/run", {{"fresh", true}});
  while (data_of(desk, "/api/work").at("phase") == "idle") std::this_thread::yield();
  CHECK(ask(desk, "POST", "/api/stop").status == 202);
  CHECK(data_of(desk, "/api/work").at("stopping") == true);
  desk.workshop().wait_until_idle();
  const Json work = data_of(desk, "/api/work");
  CHECK(work.at("stopped") == true);
  CHECK(work.at("stopping") == false);
  CHECK(work.at("fault") == "");
  CHECK(work.at("finished") == 0);
  CHECK_FALSE(std::filesystem::exists(series.folder() / "results/swings/K2.json"));
  ask(desk, "POST", "/api/run");
  desk.workshop().wait_until_idle();
  CHECK(data_of(desk, "/api/work").at("stopped") == false);
  CHECK(data_of(desk, "/api/work").at("finished") == 1);
}

TEST_CASE("a bar's length is known before it is measured, and its film comes when asked for",
          "[desk]") {
  const FilmedSeries series;
  Desk desk(series.options());
  const Json clip = data_of(desk, "/api/clip?bar=K2");
  const int frames = clip.at("frames");
  CHECK(clip.at("rate_per_s").get<double>() > 29.0);
  DeskRequest last;
  last.method = "GET";
  last.path = "/frame";
  last.query = {{"bar", "K2"}, {"n", std::to_string(frames - 1)}};
  CHECK(desk.answer(last).status == 200);
  last.query["n"] = std::to_string(frames);
  CHECK(desk.answer(last).status == 404);
  CHECK(ask(desk, "GET", "/api/clip?bar=K9").status == 404);
  CHECK(ask(desk, "POST", "/api/film", {{"bar", "K2"}}).status == 400);  // not measured yet
  ask(desk, "POST", "/api/run");
  desk.workshop().wait_until_idle();
  CHECK(bar_of(desk, "K2").at("film").is_null());
  CHECK(ask(desk, "POST", "/api/film", {{"bar", "K2"}}).status == 202);
  desk.workshop().wait_until_idle();
  CHECK(bar_of(desk, "K2").at("film").at("path") == "overlays/K2.mp4");
  CHECK(bar_of(desk, "K2").at("film").at("words") == "");
  CHECK(bar_of(desk, "K1").at("film").is_null());
  CHECK(ask(desk, "GET", "/results/overlays/K2.mp4").type == "video/mp4");
  const std::string report = test::bytes_of(series.folder() / "results/report.html");
  CHECK_THAT(report, Catch::Contains("overlays/K2.mp4"));
  for (const Json& body : {Json::object(), Json{{"bar", 3}}, Json{{"bar", "K9"}}})
    CHECK(ask(desk, "POST", "/api/film", body).status == 400);
  ask(desk, "POST", "/api/run");  // a film that is still true stays
  desk.workshop().wait_until_idle();
  CHECK(bar_of(desk, "K2").at("film").at("path") == "overlays/K2.mp4");
}

}  // namespace swingloss
