// SPDX-License-Identifier: Apache-2.0
#include "render/light_course.h"

#include "core/angle.h"
#include "core/expects.h"

#include <cmath>

namespace swingloss::render {

LightCourse::LightCourse(const RenderScene& scene, double end_s)
    : faults_(scene.faults), end_s_(end_s) {
  expects(end_s > 0.0, "LightCourse: the clip has a length");
  expects(faults_.flicker_fraction >= 0.0 && faults_.flicker_fraction < 1.0,
          "RenderFaults: flicker_fraction in [0, 1)");
}

bool LightCourse::steady() const {
  return faults_.exposure_drift_fraction == 0.0 && faults_.flicker_fraction == 0.0;
}

RowGains LightCourse::over(const Shutter& shutter, int rows) const {
  const double half_turns = kPi * faults_.flicker_per_s * shutter.exposure_s;
  const double kept = half_turns == 0.0 ? 1.0 : std::sin(half_turns) / half_turns;
  RowGains gains;
  gains.reserve(static_cast<std::size_t>(rows));
  for (int row = 0; row < rows; ++row) {
    const double t_s = shutter.row_s(row, rows);
    const double grown = faults_.exposure_drift_fraction * t_s / end_s_;
    const double flicker =
        faults_.flicker_fraction * kept * std::cos(2.0 * kPi * faults_.flicker_per_s * t_s);
    gains.push_back(static_cast<float>(faults_.brightness * (1.0 + grown) * (1.0 + flicker)));
  }
  return gains;
}

}  // namespace swingloss::render
