// SPDX-License-Identifier: Apache-2.0
/// \file swing_integrator.h
/// The pendulum's law, integrated step by step with its events located exactly.
#pragma once

#include "render/render_swing.h"

namespace swingloss::render {

/// Where the arm is. Angle from hanging rest.
struct SwingState {
  double t_s = 0.0;
  double theta_rad = 0.0;
  double omega_rad_per_s = 0.0;
  double loss_J = 0.0;  ///< spent in bearing and air since the start, integrated on its own
};

/// A bar that yields but does not break: it pushes back in proportion to the depth, springs
/// back over `spring_back_fraction` of the deepest bend, and does so with half the torque.
struct StubbornBar {
  double stiffness_Nm_per_rad = 0.0;   ///< 0: no bar
  double spring_back_fraction = 0.12;  ///< in (0, 1]; half of it is the energy given back
  double deepest_rad = 0.0;            ///< farthest it was pushed past rest
};

/// What ended a step early.
enum class SwingEvent {
  None,     ///< the full step was taken
  Passage,  ///< theta is exactly 0
  Turning,  ///< omega is exactly 0
  Stuck,    ///< omega is 0 and dry friction holds the arm there
};

/// Integrates
///
///   (M l / g) theta'' = -M sin(theta) - dry sgn(w) - linear w - quadratic w|w| + bar(theta)
///
/// by the classical fourth-order Runge-Kutta rule. The sign of w is frozen within a step, and a
/// step that would cross theta = 0 or w = 0 is cut there by bisection, so that neither the
/// friction's jump nor the blow costs order. At 1e-5 s and a 1 s period the turning points are
/// good to 1e-10 degree (tests/render/swing_integrator_test.cc).
class SwingIntegrator {
 public:
  /// Starts at rest or moving. \throws std::logic_error for constants out of range
  SwingIntegrator(const RenderRig& rig, SwingState start);

  [[nodiscard]] const SwingState& state() const { return state_; }
  [[nodiscard]] const StubbornBar& bar() const { return bar_; }
  [[nodiscard]] double inertia_kg_m2() const { return inertia_kg_m2_; }
  [[nodiscard]] double kinetic_J() const;

  /// Goes on by `step_s`, or to the first event within it.
  SwingEvent advance(double step_s);

  /// The blow: takes energy from the motion at once, without turning it.
  /// \throws std::logic_error for more than kinetic_J()
  void take(double energy_J);

  /// Puts a bar that does not break just past rest, on the far side (theta < 0).
  void meet(const StubbornBar& bar) { bar_ = bar; }

 private:
  [[nodiscard]] double bar_torque_Nm(double theta_rad) const;
  [[nodiscard]] SwingState slope(const SwingState& at) const;
  [[nodiscard]] SwingState stepped(double step_s) const;
  SwingEvent settle_at_turning();

  RenderRig rig_;
  double inertia_kg_m2_ = 0.0;
  SwingState state_;
  double direction_ = 0.0;  ///< sign of omega, kept while omega is 0
  StubbornBar bar_;
};

/// The angle at which a swing from rest at `start_rad` next comes to rest; sign kept.
[[nodiscard]] double next_turning_point_rad(const RenderRig& rig, double start_rad);

}  // namespace swingloss::render
