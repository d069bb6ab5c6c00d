// SPDX-License-Identifier: Apache-2.0
#include "render/design.h"

#include "support/test.h"

#include <algorithm>
#include <cmath>

using namespace swingloss;
using namespace swingloss::render;

namespace {

double lowest(const Prism& prism) {
  double y = 1e9;
  for (const cv::Point2d& corner : prism.outline_m) y = std::min(y, corner.y);
  return y;
}

double highest(const Prism& prism) {
  double y = -1e9;
  for (const cv::Point2d& corner : prism.outline_m) y = std::max(y, corner.y);
  return y;
}

double reach(const std::vector<Prism>& bodies) {
  double r = 0.0;
  for (const Prism& prism : bodies) {
    for (const cv::Point2d& corner : prism.outline_m)
      r = std::max(r, std::hypot(corner.x, corner.y));
  }
  return r;
}

float lightness(const Colour& c) { return std::cbrt(brightness(c)); }

}  // namespace

TEST_CASE("nothing fixed is in the way of the arm, in any design", "[render]") {
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    RenderScene scene;
    scene.seed = seed;
    const Design design = make_design(scene);
    double back_m = 0.0;
    for (const Prism& prism : design.arm) back_m = std::min(back_m, prism.back_m);
    const double sweep_m = reach(design.arm);
    for (const Prism& prism : design.room) {
      const bool behind = prism.front_m <= back_m;
      // The block that carries the axle may touch the hub's back.
      const bool bearing = prism.front_m <= -0.012 + 1e-9 && highest(prism) < 0.03;
      const bool below = highest(prism) <= -sweep_m;
      CHECK((behind || bearing || below));
    }
  }
}

TEST_CASE("the hammer meets the bar at the reduced length", "[render]") {
  for (std::uint64_t seed = 1; seed <= 30; ++seed) {
    CAPTURE(seed);
    RenderScene scene;
    scene.seed = seed;
    const Design design = make_design(scene);
    const double bar_top_m = design.vice_m + highest(design.bar.at(0));
    const double bar_foot_m = design.vice_m + lowest(design.bar.at(0));
    CHECK(design.strike_radius_m == scene.rig.reduced_length_m);
    CHECK(-design.strike_radius_m < bar_top_m);
    CHECK(-design.strike_radius_m > bar_foot_m);
    // The nose's leading face hangs just beside the bar's struck face (x = 0).
    const Prism& nose = design.arm.at(4);
    double leading_m = 1.0;
    for (const cv::Point2d& corner : nose.outline_m) leading_m = std::min(leading_m, corner.x);
    CHECK(leading_m >= 0.0);
    CHECK(leading_m < 0.001);
    CHECK(lowest(nose) < -design.strike_radius_m);
  }
}

TEST_CASE("designs differ, and the arm stands out from the wall", "[render]") {
  std::vector<float> arms, walls;
  for (std::uint64_t seed = 1; seed <= 30; ++seed) {
    CAPTURE(seed);
    RenderScene scene;
    scene.seed = seed;
    const Design design = make_design(scene);
    const float arm = lightness(design.arm.at(0).material.albedo);
    const float wall = lightness(design.room.at(0).material.albedo);
    CHECK(std::abs(arm - wall) > 0.15F);
    arms.push_back(arm);
    walls.push_back(wall);
  }
  std::sort(arms.begin(), arms.end());
  std::sort(walls.begin(), walls.end());
  CHECK(std::unique(arms.begin(), arms.end()) - arms.begin() >= 4);
  CHECK(std::unique(walls.begin(), walls.end()) - walls.begin() >= 4);
}

TEST_CASE("a design seed fixes the room whatever the clip's seed", "[render]") {
  RenderScene scene;
  scene.design_seed = 7;
  scene.seed = 1;
  const Design one = make_design(scene);
  scene.seed = 2;
  const Design two = make_design(scene);
  REQUIRE(one.room.size() == two.room.size());
  CHECK(one.lamp.centre_m == two.lamp.centre_m);
  CHECK(one.arm.at(0).material.albedo == two.arm.at(0).material.albedo);
}

TEST_CASE("an upright like the arm has the arm's colour", "[render]") {
  RenderScene scene;
  scene.faults.upright_like_arm = true;
  const Design design = make_design(scene);
  const Colour& arm = design.arm.at(0).material.albedo;
  CHECK(std::any_of(design.room.begin(), design.room.end(), [&](const Prism& prism) {
    return prism.material.albedo == arm && prism.back_m < 0.0;
  }));
}

TEST_CASE("extras are there when asked for", "[render]") {
  RenderScene scene;
  const std::size_t plain = make_design(scene).arm.size();
  scene.stickers = true;
  CHECK(make_design(scene).arm.size() == plain + 2);
  scene.tag = true;
  CHECK(make_design(scene).arm.size() == plain + 3);
  CHECK(make_design(scene).pointer.empty());
  scene.faults.drag_pointer = true;
  CHECK_FALSE(make_design(scene).pointer.empty());
  CHECK(make_design(scene).hand.empty());
  scene.faults.hand = true;
  CHECK_FALSE(make_design(scene).hand.empty());
  scene.faults.no_pendulum = true;
  CHECK(make_design(scene).arm.empty());
}
