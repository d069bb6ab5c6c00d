// SPDX-License-Identifier: Apache-2.0
#include "render/lamp.h"

#include "support/test.h"

#include <algorithm>
#include <cmath>

using namespace swingloss;
using namespace swingloss::render;
using test::to_printed_digits;
using test::to_truncation;

namespace {

Receiver plane(bool level, double at_m) {
  Receiver receiver;
  receiver.level = level;
  receiver.at_m = at_m;
  receiver.low_m = {-9.0, -9.0};
  receiver.high_m = {9.0, 9.0};
  return receiver;
}

Prism block() {
  Prism prism;
  prism.outline_m = box_outline({-0.05, -0.05}, {0.05, 0.05});
  prism.back_m = -0.02;
  prism.front_m = 0.02;
  return prism;
}

}  // namespace

TEST_CASE("a shadow is the block seen from the lamp", "[render]") {
  const cv::Vec3d light(0.0, 0.0, 2.0);
  const std::vector<cv::Vec3d> corners = shadow_of(block(), {}, light, plane(false, -0.2));
  REQUIRE(corners.size() == 4);
  // The front edge, 1.98 m before the lamp, is thrown 2.2 m far: 0.05 * 2.2 / 1.98.
  for (const cv::Vec3d& corner : corners) {
    CHECK_THAT(std::abs(corner[0]), to_printed_digits(0.05 * 2.2 / 1.98, 12));
    CHECK(corner[2] == -0.2);
  }
}

TEST_CASE("a shadow on the bench runs away from the lamp", "[render]") {
  const cv::Vec3d light(0.0, 1.0, 1.0);
  const std::vector<cv::Vec3d> corners = shadow_of(block(), {}, light, plane(true, -0.4));
  double nearest_m = 9.0, farthest_m = -9.0;
  for (const cv::Vec3d& corner : corners) {
    nearest_m = std::min(nearest_m, corner[2]);
    farthest_m = std::max(farthest_m, corner[2]);
  }
  // Top back edge (y 0.05, z -0.02): 1 - 1.02 * 1.4 / 0.95; bottom front edge (y -0.05, z
  // 0.02).
  CHECK_THAT(nearest_m, to_printed_digits(1.0 - 1.02 * 1.4 / 0.95, 12));
  CHECK_THAT(farthest_m, to_printed_digits(1.0 - 0.98 * 1.4 / 1.05, 12));
}

TEST_CASE("what is behind a plane or misses its faces throws no shadow there", "[render]") {
  const cv::Vec3d light(0.0, 0.5, 2.0);
  CHECK(shadow_of(block(), {}, light, plane(false, 0.05)).empty());
  Receiver elsewhere = plane(false, -0.2);
  elsewhere.low_m = {1.0, 1.0};
  CHECK(shadow_of(block(), {}, light, elsewhere).empty());
}

TEST_CASE("points of the lamp lie on its disc and about its middle", "[render]") {
  const Lamp lamp;
  const std::vector<cv::Vec3d> points = points_on(lamp, 32);
  cv::Vec3d mean;
  for (const cv::Vec3d& point : points) {
    const cv::Vec3d away = point - lamp.centre_m;
    CHECK(cv::norm(away) <= lamp.radius_m);
    // The disc faces the axle: products of numbers near 1 m, rounded.
    CHECK_THAT(away.dot(cv::normalize(lamp.centre_m)), to_truncation(0.0, 1e-12));
    mean += away / 32.0;
  }
  CHECK(cv::norm(mean) < 0.1 * lamp.radius_m);
}

TEST_CASE("light falls with the square of the distance and with slant", "[render]") {
  Lamp lamp;
  lamp.centre_m = {0.0, 0.0, 2.0};
  const cv::Vec3d front(0.0, 0.0, 1.0);
  CHECK_THAT(static_cast<double>(direct_light(lamp, {0, 0, 0}, front)),
             to_printed_digits(1.0, 6));
  CHECK_THAT(static_cast<double>(direct_light(lamp, {0, 0, 1}, front)),
             to_printed_digits(4.0, 6));
  const cv::Vec3d slanted = cv::normalize(cv::Vec3d(0.0, std::sqrt(3.0), 1.0));
  CHECK_THAT(static_cast<double>(direct_light(lamp, {0, 0, 0}, slanted)),
             to_printed_digits(0.5, 6));
  CHECK(direct_light(lamp, {0, 0, 0}, {0, 0, -1}) == 0.0F);
}
