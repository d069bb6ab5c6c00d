// SPDX-License-Identifier: Apache-2.0
#include "render/light_course.h"

#include "support/test.h"

#include <cmath>

using namespace swingloss;
using namespace swingloss::render;
using test::to_truncation;

namespace {

RenderScene flickering() {
  RenderScene scene;
  scene.faults.flicker_fraction = 0.4;
  scene.faults.flicker_per_s = 120.0;
  return scene;
}

}  // namespace

TEST_CASE("without drift and flicker all rows of all pictures are as bright", "[render]") {
  RenderScene scene;
  scene.faults.brightness = 0.25;
  const LightCourse light(scene, 2.0);
  CHECK(light.steady());
  CHECK(light.over({1.3, 0.004, 0.02}, 3) == RowGains{0.25F, 0.25F, 0.25F});
}

TEST_CASE("flicker is the mean of its wave over the exposure of each row", "[render]") {
  const LightCourse light(flickering(), 2.0);
  CHECK_FALSE(light.steady());
  const Shutter shutter{0.7013, 0.003, 0.011};
  const int rows = 5, steps = 20000;
  const RowGains gains = light.over(shutter, rows);
  for (int row = 0; row < rows; ++row) {
    double sum = 0.0;
    for (int i = 0; i < steps; ++i) {
      const double t_s =
          shutter.row_s(row, rows) + ((i + 0.5) / steps - 0.5) * shutter.exposure_s;
      sum += 1.0 + 0.4 * std::cos(2.0 * kPi * 120.0 * t_s);
    }
    CAPTURE(row);
    // Single precision; the sum of the middles of 20000 steps is closer than that.
    CHECK_THAT(double(gains.at(std::size_t(row))), to_truncation(sum / steps, 1e-6));
  }
  CHECK(std::abs(gains.front() - gains.back()) > 0.05F);
}

TEST_CASE("an exposure of one whole period sees no flicker", "[render]") {
  const LightCourse light(flickering(), 2.0);
  for (const float gain : light.over({0.7013, 1.0 / 120.0, 0.011}, 4)) {
    // sin(pi) is zero to within double precision; the gain is stored in single.
    CHECK_THAT(double(gain), to_truncation(1.0, 1e-6));
  }
}

TEST_CASE("drift is complete at the clip's end", "[render]") {
  RenderScene scene;
  scene.faults.exposure_drift_fraction = 0.3;
  const LightCourse light(scene, 2.0);
  // Stored in single precision.
  CHECK_THAT(double(light.over({2.0, 0.004, 0.0}, 1).front()), to_truncation(1.3, 1e-6));
  // The same.
  CHECK_THAT(double(light.over({1.0, 0.004, 0.0}, 1).front()), to_truncation(1.15, 1e-6));
}

TEST_CASE("a flicker of the whole light and more is refused", "[render]") {
  RenderScene scene;
  scene.faults.flicker_fraction = 1.0;
  CHECK_THROWS_AS(LightCourse(scene, 2.0), std::logic_error);
}
