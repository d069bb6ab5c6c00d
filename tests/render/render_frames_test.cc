// SPDX-License-Identifier: Apache-2.0
#include "render/render_frames.h"

#include "support/test.h"

#include <algorithm>

#include <opencv2/aruco.hpp>
#include <opencv2/core.hpp>

using namespace swingloss;
using namespace swingloss::render;

namespace {

struct Take {
  std::vector<cv::Mat> pictures;
  std::vector<double> stamps_s;
  RenderTruth truth;
};

RenderScene small_scene() {
  RenderScene scene;
  scene.camera.width_px = 240;
  scene.camera.height_px = 136;
  scene.camera.rate_per_s = 20.0;
  scene.absorbed_J = 1.2;
  scene.hold_s = 0.2;
  scene.length_s = 1.2;
  scene.seed = 3;
  return scene;
}

Take take(const RenderScene& scene) {
  Take result;
  result.truth = render_frames(scene, [&result](const cv::Mat& bgr, double stamp_s) {
    result.pictures.push_back(bgr.clone());
    result.stamps_s.push_back(stamp_s);
  });
  return result;
}

bool equal(const cv::Mat& a, const cv::Mat& b) {
  return a.size() == b.size() && cv::norm(a, b, cv::NORM_INF) == 0.0;
}

bool equal(const Take& a, const Take& b) {
  return std::equal(a.pictures.begin(),
                    a.pictures.end(),
                    b.pictures.begin(),
                    b.pictures.end(),
                    [](const cv::Mat& x, const cv::Mat& y) { return equal(x, y); });
}

}  // namespace

TEST_CASE("same scene, same bytes, on any number of threads", "[render]") {
  RenderScene scene = small_scene();
  const Take first = take(scene);
  CHECK(first.pictures.size() == 24);
  CHECK(equal(first, take(scene)));
  scene.jobs = 1;
  CHECK(equal(first, take(scene)));
  scene.jobs = 3;
  CHECK(equal(first, take(scene)));
  scene.seed = 4;
  CHECK_FALSE(equal(first, take(scene)));
}

TEST_CASE("a mirrored clip is the mirror", "[render]") {
  RenderScene scene = small_scene();
  const Take plain = take(scene);
  scene.camera.mirrored = true;
  Take mirrored = take(scene);
  for (cv::Mat& picture : mirrored.pictures) cv::flip(picture, picture, 1);
  CHECK(equal(plain, mirrored));
  CHECK(plain.truth.frame_angle_deg == mirrored.truth.frame_angle_deg);
}

TEST_CASE("a turned clip is upright again after the recorded rotation", "[render]") {
  RenderScene scene = small_scene();
  const Take plain = take(scene);
  const std::vector<std::pair<int, int>> turns = {{90, cv::ROTATE_90_CLOCKWISE},
                                                  {180, cv::ROTATE_180},
                                                  {270, cv::ROTATE_90_COUNTERCLOCKWISE}};
  for (const auto& [rotation_deg, back] : turns) {
    CAPTURE(rotation_deg);
    scene.camera.rotation_deg = rotation_deg;
    Take turned = take(scene);
    for (cv::Mat& picture : turned.pictures) cv::rotate(picture, picture, back);
    CHECK(equal(plain, turned));
  }
  scene.camera.rotation_deg = 45;
  CHECK_THROWS_AS(take(scene), std::logic_error);
}

TEST_CASE("truth has an entry for every frame", "[render]") {
  const Take clip = take(small_scene());
  CHECK(clip.truth.frame_time_s.size() == clip.pictures.size());
  CHECK(clip.truth.frame_angle_deg.size() == clip.pictures.size());
  CHECK(clip.truth.frame_stamp_s == clip.stamps_s);
  CHECK(clip.truth.frame_angle_deg.front() ==
        Angle::from_rad(Angle::from_deg(125.0).rad()).deg());
  CHECK(*std::min_element(clip.truth.frame_angle_deg.begin(),
                          clip.truth.frame_angle_deg.end()) >= -clip.truth.rise_deg);
  CHECK(clip.truth.absorbed_J == 1.2);
}

TEST_CASE("an interlaced frame is woven of two moments", "[render]") {
  RenderScene scene = small_scene();
  scene.camera.noise_levels = 0.0;
  scene.faults.interlaced = true;
  const Take woven = take(scene);
  scene.faults.interlaced = false;
  scene.camera.rate_per_s *= 4.0;
  const Take fast = take(scene);
  for (std::size_t k = 5; k < 16; ++k) {
    CAPTURE(k);
    const cv::Mat& earlier = fast.pictures.at(4 * k - 1);
    const cv::Mat& later = fast.pictures.at(4 * k + 1);
    for (int row = 0; row < earlier.rows; ++row) {
      const cv::Mat& field = row % 2 == 0 ? earlier : later;
      if (!equal(woven.pictures.at(k).row(row), field.row(row))) FAIL("row " << row);
    }
  }
}

TEST_CASE("uneven time drops frames and moves stamps, in order", "[render]") {
  RenderScene scene = small_scene();
  scene.camera.rate_per_s = 60.0;
  scene.camera.uneven_time = true;
  scene.length_s = 1.6;
  const Take clip = take(scene);
  CHECK(clip.pictures.size() < 96);
  CHECK(clip.pictures.size() > 75);
  CHECK(clip.stamps_s.front() == 0.0);
  CHECK(std::is_sorted(clip.stamps_s.begin(), clip.stamps_s.end()));
  CHECK(clip.truth.frame_time_s == clip.stamps_s);
}

TEST_CASE("slow motion stretches the stamps and not the truth", "[render]") {
  RenderScene scene = small_scene();
  scene.faults.capture_rate_ratio = 8.0;
  const Take clip = take(scene);
  for (std::size_t i = 0; i < clip.stamps_s.size(); ++i) {
    CHECK(clip.stamps_s[i] == 8.0 * clip.truth.frame_time_s[i]);
  }
}

TEST_CASE("a clip without a pendulum shows nothing that moves", "[render]") {
  RenderScene scene = small_scene();
  scene.camera.noise_levels = 0.0;
  scene.faults.no_pendulum = true;
  const Take clip = take(scene);
  for (const cv::Mat& picture : clip.pictures) CHECK(equal(picture, clip.pictures.front()));
}

TEST_CASE("faults change the pictures in their own way", "[render]") {
  RenderScene scene = small_scene();
  scene.camera.noise_levels = 0.0;
  scene.length_s = 0.3;
  scene.hold_s = 0.25;
  const Take plain = take(scene);
  const cv::Mat& first = plain.pictures.at(0);
  const cv::Mat& fourth = plain.pictures.at(4);  // still on hold
  REQUIRE(equal(first, fourth));

  SECTION("a hand-held camera moves the whole picture") {
    scene.faults.shake_deg = 0.3;
    const Take shaken = take(scene);
    CHECK_FALSE(
        equal(shaken.pictures.at(0).rowRange(0, 20), shaken.pictures.at(4).rowRange(0, 20)));
  }
  SECTION("a knocked camera sees another place from then on") {
    scene.faults.bump_deg = 3.0;
    scene.faults.bump_at_s = 0.08;
    const Take bumped = take(scene);
    CHECK(equal(bumped.pictures.at(0), bumped.pictures.at(1)));
    CHECK_FALSE(
        equal(bumped.pictures.at(1).rowRange(0, 20), bumped.pictures.at(4).rowRange(0, 20)));
  }
  SECTION("drifting exposure grows brighter") {
    scene.faults.exposure_drift_fraction = 0.3;
    const Take drifting = take(scene);
    CHECK(cv::mean(drifting.pictures.at(4))[1] > cv::mean(first)[1] + 5.0);
  }
  SECTION("light that flickers stands in bands where the camera reads line by line") {
    // One period from the top row to the bottom one: its middle is half a period from both.
    scene.faults.flicker_fraction = 0.4;
    scene.faults.readout_s = 1.0 / scene.faults.flicker_per_s;
    const cv::Mat banded = take(scene).pictures.at(0);
    const auto gain_of = [&](int row) {
      return cv::mean(banded.row(row))[1] / cv::mean(first.row(row))[1];
    };
    CHECK(std::abs(gain_of(0) - gain_of(first.rows / 2)) > 0.1);
  }
  SECTION("a dark room is dark") {
    scene.faults.brightness = 0.1;
    CHECK(cv::mean(take(scene).pictures.at(0))[1] < 0.5 * cv::mean(first)[1]);
  }
  SECTION("the shadow can be left out") {
    scene.shadow = false;
    const Take without = take(scene);
    CHECK(cv::mean(without.pictures.at(0))[1] > cv::mean(first)[1]);
  }
}

TEST_CASE("a camera that did not move sees the stage itself", "[render]") {
  RenderScene scene = small_scene();
  const Pinhole camera = camera_of(scene.camera);
  const Stage stage = draw_stage(make_design(scene), camera, 1);
  const Stage again = seen_by(stage, camera.turned({0.0, 0.0, 0.0}));
  // Resampling at whole pixels gives the pixels, up to single precision of the map.
  CHECK(cv::norm(stage.ambient, again.ambient, cv::NORM_INF) < 1e-3);
  CHECK(cv::norm(stage.receiver, again.receiver, cv::NORM_INF) == 0.0);
}

TEST_CASE("the tag on the hammer is readable", "[render]") {
  RenderScene scene = small_scene();
  scene.camera.width_px = 960;
  scene.camera.height_px = 540;
  scene.length_s = 0.1;
  scene.release_deg = 80.0;
  scene.absorbed_J = 0.5;
  scene.design_seed = 12;
  scene.tag = true;
  scene.camera.noise_levels = 0.0;
  const Take clip = take(scene);
  std::vector<std::vector<cv::Point2f>> corners;
  std::vector<int> numbers;
  cv::aruco::detectMarkers(clip.pictures.at(0),
                           cv::aruco::getPredefinedDictionary(cv::aruco::DICT_4X4_50),
                           corners,
                           numbers);
  REQUIRE(numbers.size() == 1);
  CHECK(numbers.at(0) == 7);
}

TEST_CASE("a studio serves only its own room and camera", "[render]") {
  RenderScene scene = small_scene();
  scene.design_seed = 5;
  const Studio studio(scene);
  const auto nowhere = [](const cv::Mat&, double) {};
  scene.seed = 77;
  scene.length_s = 0.2;
  CHECK_NOTHROW(studio.shoot(scene, nowhere));
  scene.camera.yaw_deg += 1.0;
  CHECK_THROWS_AS(studio.shoot(scene, nowhere), std::logic_error);
}
