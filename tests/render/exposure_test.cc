// SPDX-License-Identifier: Apache-2.0
#include "render/exposure.h"

#include "support/test.h"

#include <algorithm>
#include <cmath>

using namespace swingloss;
using namespace swingloss::render;
using test::to_truncation;

namespace {

constexpr double kArm_m = 0.33;

/// Of this test's own rig: one flat bar from the axle down, a square camera aimed at the axle.
struct Bench {
  RenderScene scene;
  Design design;
  Motion motion;
  Actors actors;

  explicit Bench(const RenderScene& wanted)
      : scene(wanted),
        design(one_bar()),
        motion(swing_motion(scene)),
        actors(scene, design, motion) {}

  static Design one_bar() {
    Design design;
    design.strike_radius_m = kArm_m;
    Prism bar;
    bar.outline_m = box_outline({-0.01, -kArm_m}, {0.01, 0.0});
    bar.back_m = -1e-6;
    bar.front_m = 0.0;
    design.arm.push_back(bar);
    return design;
  }
};

RenderScene plain_scene() {
  RenderScene scene;
  scene.camera = {};
  scene.camera.yaw_deg = scene.camera.pitch_deg = scene.camera.roll_deg = 0.0;
  scene.camera.aim_y_m = 0.0;
  scene.camera.width_px = 640;
  scene.camera.height_px = 480;
  scene.rig.dry_Nm = scene.rig.quadratic_Nms2 = 0.0;
  return scene;
}

/// A stage of one brightness.
Stage grey_stage(const Pinhole& camera, float level) {
  Stage stage;
  stage.camera = camera;
  stage.ambient = cv::Mat(camera.height_px, camera.width_px, CV_32FC3, cv::Scalar::all(level));
  stage.lamp = cv::Mat::zeros(camera.height_px, camera.width_px, CV_32FC3);
  stage.receiver = cv::Mat::zeros(camera.height_px, camera.width_px, CV_8UC1);
  return stage;
}

/// Share of the exposure during which each pixel is covered: what a brighter stage does not
/// add.
cv::Mat1d coverage(const Bench& bench, const Shutter& shutter) {
  const Pinhole camera = camera_of(bench.scene.camera);
  const Stage dark = grey_stage(camera, 0.0F);
  const Stage light = grey_stage(camera, 1.0F);
  Exposure exposure(bench.design, bench.actors, false);
  exposure.take(dark, shutter);
  cv::Mat1d covered(camera.height_px, camera.width_px, 0.0);
  for (int row = 0; row < covered.rows; ++row) {
    const Exposure::Extent& extent = exposure.touched(row);
    for (int column = extent.begin; column < extent.end; ++column) {
      const Colour open =
          exposure.light(light, row, column) - exposure.light(dark, row, column);
      covered(row, column) = 1.0 - static_cast<double>(open[1]);
    }
  }
  return covered;
}

/// Direction from the axle to the centroid, as a swing angle.
double direction_deg(const cv::Mat1d& covered) {
  const cv::Point2d axle(0.5 * (covered.cols - 1), 0.5 * (covered.rows - 1));
  cv::Point2d sum;
  for (int row = 0; row < covered.rows; ++row) {
    for (int column = 0; column < covered.cols; ++column) {
      sum += covered(row, column) * (cv::Point2d(column, row) - axle);
    }
  }
  return Angle::from_rad(std::atan2(sum.x, sum.y)).deg();
}

double angle_deg(const Bench& bench, double t_s) {
  return Angle::from_rad(bench.motion.theta_rad(t_s)).deg();
}

}  // namespace

TEST_CASE("a still arm is drawn at its angle", "[render]") {
  // 32 samples to a pixel: an edge pixel's coverage is off by 1/32 or less, either way. 400 of
  // them, half a bar's width off the centroid's line, move it by 0.005 px; it is 50 px away.
  constexpr double kBound_deg = 0.01;
  for (const double release_deg : {5.0, 31.0, 90.0, 125.0, 170.0}) {
    CAPTURE(release_deg);
    RenderScene scene = plain_scene();
    scene.release_deg = release_deg;
    const Bench bench(scene);
    const cv::Mat1d covered = coverage(bench, {0.1, 0.004, 0.0});
    CHECK_THAT(direction_deg(covered), to_truncation(release_deg, kBound_deg));
    // Its area: 0.02 m x 0.33 m at the plane's scale; 400 edge pixels may be off by 1/32.
    const double px_per_m = camera_of(scene.camera).focal_px.x / scene.camera.distance_m;
    const double area_px = 0.02 * kArm_m * px_per_m * px_per_m;
    CHECK_THAT(cv::sum(covered)[0], to_truncation(area_px, 400.0 / 32.0));
  }
}

TEST_CASE("blur is centred at mid exposure", "[render]") {
  const Bench bench(plain_scene());
  const double blow_s = *bench.motion.swings().at(0).blow_s;
  for (const double t_s : {blow_s - 0.15, blow_s - 0.02, blow_s + 0.1}) {
    for (const double exposure_s : {0.001, 0.008, 0.020}) {
      CAPTURE(t_s - blow_s, exposure_s);
      const cv::Mat1d covered = coverage(bench, {t_s, exposure_s, 0.0});
      // The mean angle of an exposure T is off by at most a T^2 / 24 from that of its middle
      // (a: angular acceleration, at most g / l), and drawing by 0.01 degree as above.
      const double bend_rad = 9.81 / kArm_m * exposure_s * exposure_s / 24.0;
      const double bound_deg = Angle::from_rad(bend_rad).deg() + 0.01;
      CHECK_THAT(direction_deg(covered), to_truncation(angle_deg(bench, t_s), bound_deg));
    }
  }
}

TEST_CASE("a blurred picture is the mean of sharp ones over its exposure", "[render]") {
  const Bench bench(plain_scene());
  const double t_s = *bench.motion.swings().at(0).blow_s + 0.05;
  const double exposure_s = 0.010;
  const cv::Mat1d blurred = coverage(bench, {t_s, exposure_s, 0.0});
  const auto mean_about = [&](double middle_s) {
    constexpr int kSharp = 24;
    cv::Mat1d mean(blurred.size(), 0.0);
    for (int i = 0; i < kSharp; ++i) {
      const double at_s = middle_s + ((i + 0.5) / kSharp - 0.5) * exposure_s;
      mean += coverage(bench, {at_s, 0.0, 0.0}) / kSharp;
    }
    return mean;
  };
  const double off = cv::norm(blurred, mean_about(t_s), cv::NORM_L1);
  const double off_when_late = cv::norm(blurred, mean_about(t_s + 0.002), cv::NORM_L1);
  CHECK(off < 0.15 * off_when_late);
}

TEST_CASE("a rolling shutter gives each row its own time", "[render]") {
  const Bench bench(plain_scene());
  const double t_s = *bench.motion.swings().at(0).blow_s + 0.03;
  const double readout_s = 0.016;
  const cv::Mat1d rolling = coverage(bench, {t_s, 1e-4, readout_s});
  const cv::Mat1d global = coverage(bench, {t_s, 1e-4, 0.0});
  CHECK(cv::norm(rolling, global, cv::NORM_L1) > 100.0);
  for (const int row : {260, 300, 340}) {
    CAPTURE(row);
    // Rows 2n and 2n + 1 share the time of the line between them.
    const double later_s = (row + 0.5 - 239.5) / 480.0 * readout_s;
    const cv::Mat1d at_row = coverage(bench, {t_s + later_s, 1e-4, 0.0});
    CHECK(cv::sum(at_row.row(row))[0] > 1.0);
    CHECK(cv::norm(rolling.row(row), at_row.row(row), cv::NORM_INF) == 0.0);
  }
}

TEST_CASE("the moving shadow takes the lamp's light away and moves along", "[render]") {
  Bench bench(plain_scene());
  bench.design.lamp.centre_m = {0.5, 1.0, 1.6};
  const Pinhole camera = camera_of(bench.scene.camera);
  Stage stage = grey_stage(camera, 0.2F);
  stage.lamp.setTo(cv::Scalar::all(0.5));
  stage.receiver.setTo(1);
  Receiver wall;
  wall.at_m = -0.2;
  wall.low_m = {-5.0, -5.0};
  wall.high_m = {5.0, 5.0};
  stage.receivers.push_back(wall);
  const auto level_at = [&](double t_s, const cv::Vec3d& place_m) {
    Exposure exposure(bench.design, bench.actors, true);
    exposure.take(stage, {t_s, 0.001, 0.0});
    const cv::Point at(camera.pixel_of(place_m));
    const Exposure::Extent& extent = exposure.touched(at.y);
    if (at.x < extent.begin || at.x >= extent.end) return 0.7F;
    return exposure.light(stage, at.y, at.x)[1];
  };
  // From the lamp through the middle of the arm at 125 degrees on to the wall.
  const double release_rad = Angle::from_deg(125.0).rad();
  const cv::Vec3d middle(
      0.5 * kArm_m * std::sin(release_rad), -0.5 * kArm_m * std::cos(release_rad), 0.0);
  const double reach = (1.6 + 0.2) / 1.6;
  const cv::Vec3d shadow =
      bench.design.lamp.centre_m + reach * (middle - bench.design.lamp.centre_m);
  CHECK(level_at(0.1, shadow) == 0.2F);
  CHECK(level_at(*bench.motion.swings().at(0).blow_s, shadow) == 0.7F);
}
