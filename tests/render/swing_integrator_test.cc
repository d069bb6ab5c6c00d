// SPDX-License-Identifier: Apache-2.0
#include "render/swing_integrator.h"

#include "core/angle.h"
#include "support/test.h"

#include <cmath>
#include <vector>

using namespace swingloss;
using namespace swingloss::render;
using test::to_printed_decimals;
using test::to_rounding;
using test::to_truncation;

namespace {

constexpr double kStep_s = 1e-5;

/// M = I = omega0 = 1, no losses.
RenderRig unit_rig() { return {1.0, 1.0, 1.0, 0.0, 0.0, 0.0}; }

double turning_deg(const RenderRig& rig, double start_deg) {
  return -Angle::from_rad(next_turning_point_rad(rig, Angle::from_deg(start_deg).rad())).deg();
}

struct Row {
  double start_deg, coefficient, dry_deg, quadratic_deg, linear_deg;
};

/// Amplitude after one half swing. Dry and quadratic columns: roots of the closed forms
///   cos t1 - cos t0 = mu (t0 + t1),
///   (cos t1 - 2k sin t1) e^(2k t1) = (cos t0 + 2k sin t0) e^(-2k t0);
/// linear column: an integration with a tolerance of 1e-12 by another program. All from the
/// project's table of reference values, section 2.4.
const std::vector<Row>& table() {
  static const std::vector<Row> rows = {
      {30, 0.0005, 29.94000558, 29.98933535, 29.97568788},
      {30, 0.01, 28.80218341, 29.78816367, 29.51771028},
      {90, 0.0005, 89.91004494, 89.88558808, 89.90300641},
      {90, 0.002, 89.64071621, 89.54449099, 89.61309835},
      {90, 0.01, 88.21753712, 87.77742299, 88.09338362},
      {120, 0.002, 119.44854095, 119.00076386, 119.29427396},
      {150, 0.01, 144.54949147, 139.53109503, 142.80772287},
      {160, 0.0005, 159.53797973, 159.03142433, 159.37703446},
      {160, 0.01, 152.27495608, 145.80853423, 150.02777062},
  };
  return rows;
}

}  // namespace

TEST_CASE("half swings lose what the closed forms say", "[render][truth]") {
  for (const Row& row : table()) {
    CAPTURE(row.start_deg, row.coefficient);
    RenderRig rig = unit_rig();
    rig.dry_Nm = row.coefficient;
    CHECK_THAT(turning_deg(rig, row.start_deg), to_printed_decimals(row.dry_deg, 8));
    rig = unit_rig();
    rig.quadratic_Nms2 = row.coefficient;
    CHECK_THAT(turning_deg(rig, row.start_deg), to_printed_decimals(row.quadratic_deg, 8));
    rig = unit_rig();
    rig.linear_Nms = row.coefficient;
    CHECK_THAT(turning_deg(rig, row.start_deg), to_printed_decimals(row.linear_deg, 8));
  }
}

TEST_CASE("a half swing depends on loss per moment, not on the size of the rig", "[render]") {
  // Dry friction: only dry / M enters. The other rig has 5.45 rad/s, so its error per step is
  // larger; 1e-9 degree is a hundred times the table's agreement of 1e-10 with one rad/s.
  RenderRig real;
  real.dry_Nm = 0.01 * real.moment_Nm;
  real.quadratic_Nms2 = 0.0;
  CHECK_THAT(turning_deg(real, 120.0), to_truncation(117.29577805, 1e-8));
}

TEST_CASE("what is lost in bearing and air is what height is lacking", "[render]") {
  RenderRig rig;
  rig.linear_Nms = 0.002;
  SwingIntegrator swing(rig, {0.0, 2.2, 0.0, 0.0});
  int turnings = 0;
  while (turnings < 3) {
    if (swing.advance(kStep_s) == SwingEvent::Turning) ++turnings;
  }
  const double height_J = rig.moment_Nm * (std::cos(swing.state().theta_rad) - std::cos(2.2));
  CHECK(swing.state().loss_J > 0.1);
  // Fourth order: (10 rad/s * 1e-5 s)^4 = 1e-16 a step, and 3e5 steps in four seconds.
  CHECK_THAT(swing.state().loss_J, to_truncation(height_J, 1e-10));
}

TEST_CASE("period at 90 degrees is that of the complete elliptic integral", "[render][truth]") {
  // K(1/sqrt 2) = 1.8540746773013719 (Abramowitz and Stegun 18.14.7); a half swing from 90
  // degrees takes 2 K / omega0.
  SwingIntegrator swing(unit_rig(), {0.0, kPi / 2.0, 0.0, 0.0});
  while (swing.advance(kStep_s) != SwingEvent::Turning) {
  }
  // Rounding of 4e5 additions of 1e-5 to the clock: 4e5 half ulps of 4, were they all alike.
  CHECK_THAT(swing.state().t_s, to_truncation(2.0 * 1.8540746773013719, 2e-10));
}

TEST_CASE("the blow takes its energy at once and leaves the direction", "[render]") {
  SwingIntegrator swing(RenderRig{}, {0.0, 0.0, -9.0, 0.0});
  const double before_J = swing.kinetic_J();
  swing.take(1.25);
  CHECK(swing.state().omega_rad_per_s < 0.0);
  // A product, a difference, a square root and a square: a few roundings.
  CHECK_THAT(before_J - swing.kinetic_J(), to_rounding(1.25, 16));
  CHECK_THROWS_AS(swing.take(before_J), std::logic_error);
}

TEST_CASE("an unbroken bar stops the hammer and gives back its share", "[render]") {
  RenderRig rig = unit_rig();
  const double k = 2500.0;
  SwingIntegrator swing(rig, {0.0, 0.0, -2.0, 0.0});
  swing.meet({k, 0.12, 0.0});
  while (swing.advance(kStep_s) != SwingEvent::Turning) {
  }
  const double depth_rad = -swing.state().theta_rad;
  const double spring_J = 0.5 * k * depth_rad * depth_rad;
  // 1/2 k d^2 + M (1 - cos d) = 2 J, by the same fourth order as above.
  CHECK_THAT(spring_J + 1.0 - std::cos(depth_rad), to_truncation(2.0, 1e-9));

  while (swing.advance(kStep_s) != SwingEvent::Turning) {
  }
  // Back: half the torque over 0.12 of the depth gives 0.06 of the spring's energy. The end of
  // contact is not located: slope 0.5 k / 0.12, speed 0.5 rad/s, so 1/2 slope (w h)^2.
  const double returned_J = 1.0 - std::cos(swing.state().theta_rad);
  const double bound_J = 0.5 * (0.5 * k / 0.12) * std::pow(0.5 * kStep_s, 2);
  CHECK_THAT(returned_J, to_truncation(0.06 * spring_J + 1.0 - std::cos(depth_rad), bound_J));
}

TEST_CASE("dry friction holds the arm where gravity cannot move it", "[render]") {
  RenderRig rig = unit_rig();
  rig.dry_Nm = 0.05;
  SwingIntegrator swing(rig, {0.0, 0.3, 0.0, 0.0});
  SwingEvent event = SwingEvent::None;
  while (event != SwingEvent::Stuck) event = swing.advance(1e-4);
  CHECK(std::sin(std::abs(swing.state().theta_rad)) <= 0.05);
  CHECK(swing.state().omega_rad_per_s == 0.0);
}

TEST_CASE("constants that no rig has are our own mistake", "[render]") {
  RenderRig rig;
  rig.moment_Nm = 0.0;
  CHECK_THROWS_AS(SwingIntegrator(rig, {}), std::logic_error);
  rig = {};
  rig.dry_Nm = -0.1;
  CHECK_THROWS_AS(SwingIntegrator(rig, {}), std::logic_error);
}
