// SPDX-License-Identifier: Apache-2.0
#include "render/render_swing.h"

#include "core/input_error.h"
#include "imaging/frame_source.h"
#include "render/truth_json.h"
#include "support/temp_folder.h"
#include "support/test.h"

#include <nlohmann/json.hpp>

using namespace swingloss;
using test::to_truncation;

namespace {

RenderScene small_scene() {
  RenderScene scene;
  scene.camera.width_px = 320;
  scene.camera.height_px = 180;
  scene.absorbed_J = 1.0;
  scene.hold_s = 0.1;
  scene.length_s = 0.6;
  return scene;
}

}  // namespace

TEST_CASE("a rendered clip can be read back with its times", "[render]") {
  const test::TempFolder folder;
  RenderScene scene = small_scene();
  scene.camera.uneven_time = true;
  const RenderTruth truth = render_swing(scene, folder / "clip.mp4");
  const auto clip = open_clip(folder / "clip.mp4");
  std::size_t frames = 0;
  while (const auto frame = clip->next()) {
    REQUIRE(frames < truth.frame_stamp_s.size());
    // The container counts in 1/90000 s.
    CHECK_THAT(frame->t_s, to_truncation(truth.frame_stamp_s[frames], 1.0 / 90000.0));
    ++frames;
  }
  CHECK(frames == truth.frame_stamp_s.size());
  CHECK(clip->info().width_px == 320);
}

TEST_CASE("same scene, same file", "[render]") {
  const test::TempFolder folder;
  // A coder without loss: what is compared is the pictures and their times, not how some
  // version of a coder rounds on some processor.
  RenderScene scene = small_scene();
  scene.camera.codec = "ffv1";
  render_swing(scene, folder / "a.mkv");
  render_swing(scene, folder / "b.mkv");
  CHECK_FALSE(test::bytes_of(folder / "a.mkv").empty());
  CHECK(test::bytes_of(folder / "a.mkv") == test::bytes_of(folder / "b.mkv"));
}

TEST_CASE("turned and narrow pixels are recorded and undone by the reader", "[render]") {
  const test::TempFolder folder;
  RenderScene scene = small_scene();
  scene.length_s = 0.2;
  scene.camera.rotation_deg = 90;
  render_swing(scene, folder / "turned.mp4");
  const auto turned = open_clip(folder / "turned.mp4");
  CHECK(turned->info().width_px == 320);
  CHECK(turned->info().height_px == 180);
  scene.camera.rotation_deg = 0;
  scene.camera.pixel_aspect_ratio = 1.5;
  render_swing(scene, folder / "narrow.mp4");
  const auto narrow = open_clip(folder / "narrow.mp4");
  CHECK(narrow->info().width_px == 480);
}

TEST_CASE("a place that cannot be written is the caller's to put right", "[render]") {
  const test::TempFolder folder;
  CHECK_THROWS_AS(render_swing(small_scene(), folder / "nowhere/clip.mp4"), InputError);
}

TEST_CASE("truth as JSON says what happened", "[render]") {
  RenderScene scene = small_scene();
  RenderTruth truth;
  truth.swings.resize(1);
  truth.swings[0].absorbed_J = 1.0;
  truth.swings[0].broken = true;
  truth.swings[0].rise_deg = 93.25;
  truth.frame_time_s = {0.0, 0.5};
  auto json = nlohmann::json::parse(clip_truth_json(scene, truth));
  CHECK(json.at("format") == "swingloss/clip-truth/1");
  CHECK(json.at("outcome") == "broken");
  CHECK(json.at("absorbed_J") == 1.0);
  CHECK(json.at("rise_deg") == 93.25);
  CHECK(json.at("turn_s").is_null());
  CHECK(json.at("frame_time_s").size() == 2);
  CHECK(json.at("rig").at("moment_Nm") == 2.2);

  scene.breaks = false;
  truth.swings[0].broken = false;
  truth.swings[0].absorbed_J.reset();
  json = nlohmann::json::parse(clip_truth_json(scene, truth));
  CHECK(json.at("outcome") == "not-broken");
  CHECK(json.at("absorbed_J").is_null());
}
