// SPDX-License-Identifier: Apache-2.0
#include "swing/energy.h"

#include "core/expects.h"
#include "swing/period_ratio.h"
#include "swing/swing_path.h"

#include <cmath>

namespace swingloss {
namespace {

/// A quarter period, and a margin for what friction slows [1/w0].
double quarter_span(double amplitude_rad) {
  return 1.5 * complete_elliptic_k(std::sin(0.5 * amplitude_rad)) + 1.0;
}

void expect_amplitude(double amplitude_rad) {
  expects(amplitude_rad > 0.0 && amplitude_rad < kPi, "an amplitude is not within (0, pi)");
}

/// Loss over M of an arc, and its derivatives by amplitude and loss terms.
struct ArcLoss {
  double fraction = 0.0;
  Eigen::Vector4d by = Eigen::Vector4d::Zero();
};

ArcLoss arc_loss(double amplitude_rad, const BottomSpeed& bottom, double sign) {
  ArcLoss loss;
  loss.fraction = sign * (1.0 - std::cos(amplitude_rad) - 0.5 * bottom.omega * bottom.omega);
  loss.by = -sign * bottom.omega * bottom.omega_by;
  loss.by[kByAmplitude] += sign * std::sin(amplitude_rad);
  return loss;
}

}  // namespace

Uncertain height_energy_J(const Uncertain& moment_Nm, const Uncertain& angle_rad) {
  return moment_Nm * (Uncertain::exact(1.0) - cos(angle_rad));
}

Uncertain raw_absorbed_J(const Uncertain& moment_Nm,
                         const Uncertain& release_rad,
                         const Uncertain& rise_rad) {
  return moment_Nm * (cos(rise_rad) - cos(release_rad));
}

double textbook_speed_m_per_s(double gravity_m_per_s2,
                              double strike_radius_m,
                              double release_rad) {
  return std::sqrt(2.0 * gravity_m_per_s2 * strike_radius_m * (1.0 - std::cos(release_rad)));
}

std::optional<BottomSpeed> fall_to_bottom(double amplitude_rad, const SwingLaw& law) {
  expect_amplitude(amplitude_rad);
  const SwingPath path(amplitude_rad, law, {0.0, quarter_span(amplitude_rad)});
  const std::optional<PathPoint> bottom = path.first_after(0.0);
  if (!bottom) return std::nullopt;
  return BottomSpeed{-bottom->omega, -bottom->omega_by, bottom->s};
}

BottomSpeed rise_from_bottom(double amplitude_rad, const SwingLaw& law) {
  expect_amplitude(amplitude_rad);
  const SwingPath path(amplitude_rad, law, {quarter_span(amplitude_rad), 0.0});
  const std::optional<PathPoint> bottom = path.last_before(0.0);
  expects(bottom.has_value(), "a rise does not come from the bottom");
  return {bottom->omega, bottom->omega_by, -bottom->s};
}

std::optional<Uncertain> friction_work_J(const Uncertain& moment_Nm,
                                         const UncertainLaw& law,
                                         const Uncertain& release_rad,
                                         const std::optional<Uncertain>& rise_rad) {
  const std::optional<BottomSpeed> down = fall_to_bottom(release_rad.value(), law.law());
  if (!down) return std::nullopt;
  const ArcLoss fall = arc_loss(release_rad.value(), *down, 1.0);
  ArcLoss rise;
  if (rise_rad) {
    const BottomSpeed up = rise_from_bottom(rise_rad->value(), law.law());
    rise = arc_loss(rise_rad->value(), up, -1.0);
  }
  const Uncertain none;
  const Eigen::Vector4d both = fall.by + rise.by;
  return moment_Nm * Uncertain::combine(fall.fraction + rise.fraction,
                                        {{fall.by[kByAmplitude], &release_rad},
                                         {rise.by[kByAmplitude], rise_rad ? &*rise_rad : &none},
                                         {both[kByDry], &law.dry},
                                         {both[kByLinear], &law.linear},
                                         {both[kByQuadratic], &law.quadratic}});
}

std::optional<Uncertain> free_rise_rad(const UncertainLaw& law, const Uncertain& release_rad) {
  expect_amplitude(release_rad.value());
  const SwingPath path(
      release_rad.value(), law.law(), {0.0, 2.0 * quarter_span(release_rad.value())});
  const std::vector<PathPoint> turns = path.turns_after();
  if (turns.empty() || turns.front().theta_rad >= 0.0) return std::nullopt;
  const PathGradient& by = turns.front().theta_by;
  return Uncertain::combine(-turns.front().theta_rad,
                            {{-by[kByAmplitude], &release_rad},
                             {-by[kByDry], &law.dry},
                             {-by[kByLinear], &law.linear},
                             {-by[kByQuadratic], &law.quadratic}});
}

}  // namespace swingloss
