// SPDX-License-Identifier: Apache-2.0
/// \file measured.h
/// Made tracks through measure_swing, and how its answers score.
#pragma once

#include "core/angle.h"
#include "support/test.h"
#include "swing/made_rigs.h"
#include "swing/measure_swing.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

namespace swingloss::test {

inline double deg(const Uncertain& angle_rad) {
  return Angle::from_rad(angle_rad.value()).deg();
}
inline double u_deg(const Uncertain& angle_rad) { return Angle::from_rad(angle_rad.u()).deg(); }

inline SwingMeasurement measured(const AngleTrack& track,
                                 const Pendulum& pendulum,
                                 const SwingOptions& options = {}) {
  Result<SwingMeasurement> result = measure_swing(track, &pendulum, options);
  REQUIRE(result.ok());
  return std::move(result).value();
}

/// With the made rig, its friction known or not.
inline SwingMeasurement measured(const AngleTrack& track, bool friction_known = true) {
  return measured(track, made_pendulum(friction_known));
}

inline SwingMeasurement measured(const MadeClip& clip, bool friction_known = true) {
  return measured(clip.sampled({}), friction_known);
}

inline bool says(const SwingMeasurement& m, const std::string& code) {
  return std::any_of(
      m.remarks.begin(), m.remarks.end(), [&](const Remark& r) { return r.code == code; });
}

/// Squares of scores, to be 1 on average.
struct Scores {
  double sum = 0.0;
  int n = 0;
  void add(double estimate, double truth, double u) {
    sum += std::pow((estimate - truth) / u, 2);
    ++n;
  }
  [[nodiscard]] double mean() const { return sum / n; }
};

}  // namespace swingloss::test
