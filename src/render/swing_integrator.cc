// SPDX-License-Identifier: Apache-2.0
#include "render/swing_integrator.h"

#include "core/expects.h"

#include <algorithm>
#include <cmath>

namespace swingloss::render {
namespace {

constexpr double kStep_s = 1e-5;
/// Torque of a bent bar on its way back, of that on the way in: each later contact loses
/// energy.
constexpr double kHysteresis = 0.5;

SwingState moved(const SwingState& from, const SwingState& slope, double step_s) {
  return {from.t_s + step_s * slope.t_s,
          from.theta_rad + step_s * slope.theta_rad,
          from.omega_rad_per_s + step_s * slope.omega_rad_per_s,
          from.loss_J + step_s * slope.loss_J};
}

double sign(double x) { return x < 0.0 ? -1.0 : 1.0; }

}  // namespace

SwingIntegrator::SwingIntegrator(const RenderRig& rig, SwingState start)
    : rig_(rig),
      inertia_kg_m2_(rig.moment_Nm * rig.reduced_length_m / rig.gravity_m_per_s2),
      state_(start) {
  expects(rig.moment_Nm > 0.0 && rig.reduced_length_m > 0.0 && rig.gravity_m_per_s2 > 0.0,
          "RenderRig: moment, reduced length and gravity are positive");
  expects(rig.dry_Nm >= 0.0 && rig.linear_Nms >= 0.0 && rig.quadratic_Nms2 >= 0.0,
          "RenderRig: losses are not negative");
  direction_ =
      start.omega_rad_per_s != 0.0 ? sign(start.omega_rad_per_s) : -sign(start.theta_rad);
}

double SwingIntegrator::kinetic_J() const {
  return 0.5 * inertia_kg_m2_ * state_.omega_rad_per_s * state_.omega_rad_per_s;
}

double SwingIntegrator::bar_torque_Nm(double theta_rad) const {
  const double depth_rad = -theta_rad;
  if (bar_.stiffness_Nm_per_rad == 0.0 || depth_rad <= 0.0) return 0.0;
  const double loading_Nm = bar_.stiffness_Nm_per_rad * depth_rad;
  if (depth_rad >= bar_.deepest_rad) return loading_Nm;
  const double dent_rad = bar_.deepest_rad * (1.0 - bar_.spring_back_fraction);
  const double unloading_Nm =
      bar_.stiffness_Nm_per_rad / bar_.spring_back_fraction * (depth_rad - dent_rad);
  const double giving_back = direction_ > 0.0 ? kHysteresis : 1.0;
  return std::max(0.0, giving_back * unloading_Nm);
}

SwingState SwingIntegrator::slope(const SwingState& at) const {
  const double w = at.omega_rad_per_s;
  const double loss_Nm =
      rig_.dry_Nm * direction_ + rig_.linear_Nms * w + rig_.quadratic_Nms2 * w * std::abs(w);
  const double torque_Nm =
      -rig_.moment_Nm * std::sin(at.theta_rad) - loss_Nm + bar_torque_Nm(at.theta_rad);
  return {1.0, w, torque_Nm / inertia_kg_m2_, loss_Nm * w};
}

SwingState SwingIntegrator::stepped(double step_s) const {
  const SwingState k1 = slope(state_);
  const SwingState k2 = slope(moved(state_, k1, 0.5 * step_s));
  const SwingState k3 = slope(moved(state_, k2, 0.5 * step_s));
  const SwingState k4 = slope(moved(state_, k3, step_s));
  SwingState next = moved(state_, k1, step_s / 6.0);
  next = moved(next, k2, step_s / 3.0);
  next = moved(next, k3, step_s / 3.0);
  return moved(next, k4, step_s / 6.0);
}

SwingEvent SwingIntegrator::advance(double step_s) {
  const auto turns = [this](const SwingState& s) {
    return s.omega_rad_per_s * direction_ < 0.0;
  };
  const auto passes = [this](const SwingState& s) {
    return s.theta_rad * state_.theta_rad < 0.0;
  };

  const SwingState full = stepped(step_s);
  const bool event = turns(full) || passes(full);
  if (!event) {
    state_ = full;
    bar_.deepest_rad = std::max(bar_.deepest_rad, -state_.theta_rad);
    return SwingEvent::None;
  }
  double before_s = 0.0;
  double after_s = step_s;
  for (int halving = 0; halving < 60; ++halving) {
    const double middle_s = 0.5 * (before_s + after_s);
    const SwingState middle = stepped(middle_s);
    (turns(middle) || passes(middle) ? after_s : before_s) = middle_s;
  }
  const SwingState there = stepped(after_s);
  const bool passage = passes(there);
  state_ = there;
  if (passage) {
    state_.theta_rad = 0.0;
    return SwingEvent::Passage;
  }
  return settle_at_turning();
}

SwingEvent SwingIntegrator::settle_at_turning() {
  state_.omega_rad_per_s = 0.0;
  bar_.deepest_rad = std::max(bar_.deepest_rad, -state_.theta_rad);
  const double drive_Nm =
      -rig_.moment_Nm * std::sin(state_.theta_rad) + bar_torque_Nm(state_.theta_rad);
  if (std::abs(drive_Nm) <= rig_.dry_Nm) return SwingEvent::Stuck;
  direction_ = sign(drive_Nm);
  return SwingEvent::Turning;
}

void SwingIntegrator::take(double energy_J) {
  expects(energy_J >= 0.0 && energy_J <= kinetic_J(),
          "the blow cannot take more energy than the hammer has");
  const double left_J = kinetic_J() - energy_J;
  state_.omega_rad_per_s =
      sign(state_.omega_rad_per_s) * std::sqrt(2.0 * left_J / inertia_kg_m2_);
}

double next_turning_point_rad(const RenderRig& rig, double start_rad) {
  SwingIntegrator swing(rig, {0.0, start_rad, 0.0, 0.0});
  SwingEvent event = SwingEvent::None;
  while (event == SwingEvent::None || event == SwingEvent::Passage)
    event = swing.advance(kStep_s);
  return swing.state().theta_rad;
}

}  // namespace swingloss::render
