// SPDX-License-Identifier: Apache-2.0
/// \file motion.h
/// The arm's angle over a whole recording.
#pragma once

#include "render/render_swing.h"
#include "render/swing_integrator.h"

#include <vector>

namespace swingloss::render {

/// Angle against time, with everything that happened.
class Motion {
 public:
  /// Cubic Hermite between knots at most 0.2 ms apart; held constant beyond either end.
  [[nodiscard]] double theta_rad(double t_s) const;
  /// Smallest angle up to `t_s` since the last lift: where a drag pointer stands.
  [[nodiscard]] double lowest_rad(double t_s) const;
  [[nodiscard]] double end_s() const { return knots_.empty() ? 0.0 : knots_.back().t_s; }
  [[nodiscard]] const std::vector<RenderSwingTruth>& swings() const { return swings_; }
  /// From here on the arm hangs still, in another take; infinity when there is none.
  [[nodiscard]] double cut_s() const { return cut_s_; }

 private:
  friend class MotionMaker;
  struct Knot {
    double t_s, theta_rad, omega_rad_per_s, lowest_rad;
  };
  [[nodiscard]] std::size_t knot_before(double t_s) const;

  std::vector<Knot> knots_;
  std::vector<RenderSwingTruth> swings_;
  double cut_s_ = 0.0;
};

/// Plays the scene's swings, catches, lifts and rests one after the other.
/// \throws std::logic_error for a scene out of range
[[nodiscard]] Motion swing_motion(const RenderScene& scene);

}  // namespace swingloss::render
