// SPDX-License-Identifier: Apache-2.0
#include "swing/swing_path.h"

#include "core/angle.h"
#include "metrology/differences.h"
#include "support/test.h"
#include "swing/period_ratio.h"

#include <algorithm>
#include <cmath>

using namespace swingloss;
using namespace swingloss::test;

namespace {

double rad(double deg) { return Angle::from_deg(deg).rad(); }

double next_amplitude_deg(double amplitude_deg, const SwingLaw& law) {
  const SwingPath path(rad(amplitude_deg), law, {0.0, 12.0});
  return -Angle::from_rad(path.turns_after().at(0).theta_rad).deg();
}

struct Row {
  double from_deg, coefficient, dry_deg, quadratic_deg, linear_deg;
};

// Amplitude after one half swing: closed forms for dry and quadratic loss, a 1e-12 solver of
// another kind for the linear one; printed to eight decimals of a degree in the reference
// values.
const Row kTable[] = {{30, 0.0005, 29.94000558, 29.98933535, 29.97568788},
                      {30, 0.002, 29.76008897, 29.95738771, 29.90287717},
                      {30, 0.01, 28.80218341, 29.78816367, 29.51771028},
                      {90, 0.0005, 89.91004494, 89.88558808, 89.90300641},
                      {90, 0.002, 89.64071621, 89.54449099, 89.61309835},
                      {90, 0.01, 88.21753712, 87.77742299, 88.09338362},
                      {120, 0.0005, 119.86161219, 119.74769329, 119.82253252},
                      {120, 0.002, 119.44854095, 119.00076386, 119.29427396},
                      {120, 0.01, 117.29577805, 115.24802966, 116.57546852},
                      {150, 0.0005, 149.70164250, 149.37337013, 149.59464842},
                      {150, 0.002, 148.82546671, 147.57734168, 148.41320410},
                      {150, 0.01, 144.54949147, 139.53109503, 142.80772287},
                      {160, 0.0005, 159.53797973, 159.03142433, 159.37703446},
                      {160, 0.002, 158.21527685, 156.38013054, 157.61796318},
                      {160, 0.01, 152.27495608, 145.80853423, 150.02777062}};

}  // namespace

TEST_CASE("a half swing loses what the closed forms say", "[swing][truth]") {
  for (const Row& row : kTable) {
    CAPTURE(row.from_deg, row.coefficient);
    // The integrator's 1e-9 rad (below) is 6e-8 degrees.
    const double bound_deg = 6e-8;
    CHECK_THAT(next_amplitude_deg(row.from_deg, {row.coefficient, 0, 0}),
               to_truncation(row.dry_deg, bound_deg));
    CHECK_THAT(next_amplitude_deg(row.from_deg, {0, row.coefficient, 0}),
               to_truncation(row.linear_deg, bound_deg));
    CHECK_THAT(next_amplitude_deg(row.from_deg, {0, 0, row.coefficient}),
               to_truncation(row.quadratic_deg, bound_deg));
  }
}

TEST_CASE("a small linear swing decays as the damped oscillator", "[swing][truth]") {
  // theta = a e^{-b s/2} (cos w s + b/(2w) sin w s), w = sqrt(1 - b^2/4): textbook.
  const double b = 0.05;
  const double a = 1e-4;
  const double w = std::sqrt(1.0 - 0.25 * b * b);
  const SwingPath path(a, {0.0, b, 0.0}, {0.0, 30.0});
  for (int i = 0; 0.37 * i < 30.0; ++i) {
    const double s = 0.37 * i;
    const double theta =
        a * std::exp(-0.5 * b * s) * (std::cos(w * s) + 0.5 * b / w * std::sin(w * s));
    // sin(theta) for theta lags by s a^2/16 of the phase: 30 a^3/16 = 2e-12; integrator below.
    CHECK_THAT(path.at(s).theta_rad, to_truncation(theta, 5e-12));
  }
}

TEST_CASE("without loss the path is the elliptic period and conserves energy",
          "[swing][truth]") {
  for (const double deg : {20.0, 90.0, 150.0}) {
    CAPTURE(deg);
    const SwingPath path(rad(deg), SwingLaw{}, {0.0, 40.0});
    const auto turns = path.turns_after();
    REQUIRE(turns.size() >= 2);
    // The integrator's phase error, below.
    CHECK_THAT(turns[1].s, to_truncation(2.0 * kPi * period_ratio(Angle::from_deg(deg)), 1e-8));
    for (int i = 0; 1.7 * i < 40.0; ++i) {
      const double s = 1.7 * i;
      const PathPoint p = path.at(s);
      const double energy = 0.5 * p.omega * p.omega + 1.0 - std::cos(p.theta_rad);
      // Interpolated speeds carry 2e-8 (below), times a speed of at most 2.
      CHECK_THAT(energy, to_truncation(1.0 - std::cos(rad(deg)), 5e-8));
    }
  }
}

TEST_CASE("the default step is good to 2e-9 rad over ten swings", "[swing]") {
  const SwingLaw law{0.002, 0.003, 0.01};
  const SwingPath usual(rad(120.0), law, {3.0, 30.0});
  const SwingPath fine(rad(120.0), law, {3.0, 30.0, 0.001});
  double theta = 0.0;
  double omega = 0.0;
  for (int i = 0; 0.0137 * i < 33.0; ++i) {
    const double s = -3.0 + 0.0137 * i;
    theta = std::max(theta, std::abs(usual.at(s).theta_rad - fine.at(s).theta_rad));
    omega = std::max(omega, std::abs(usual.at(s).omega - fine.at(s).omega));
  }
  // Fourth order: a tenth of the step leaves a ten-thousandth of the error in `fine`.
  CHECK_THAT(theta, to_truncation(0.0, 2.1e-9));
  CHECK_THAT(omega, to_truncation(0.0, 2e-8));
}

TEST_CASE("a path run back in time is the path", "[swing]") {
  const SwingLaw law{0.002, 0.003, 0.01};
  const SwingPath forth(rad(120.0), law, {0.0, 10.0});
  const PathPoint turn = forth.turns_after().at(0);
  const SwingPath back(turn.theta_rad, law, {turn.s, 0.0});
  for (int i = 0; 0.31 * i < turn.s; ++i) {
    const double s = 0.31 * i;
    // Both integrations and the place of the turning point: three times the error above.
    CHECK_THAT(back.at(s - turn.s).theta_rad, to_truncation(forth.at(s).theta_rad, 6e-9));
  }
}

TEST_CASE("derivatives of a path are those that differences give", "[swing]") {
  const double amplitude = rad(120.0);
  const SwingLaw law{0.002, 0.003, 0.01};
  const PathSpan span{3.0, 25.0};
  const SwingPath path(amplitude, law, span);
  for (const double s : {-2.0, 1.0, 2.7, 5.0, 9.3, 20.2}) {
    CAPTURE(s);
    const auto f = [&](const Eigen::VectorXd& x) {
      const PathPoint p = SwingPath(x[0], {x[1], x[2], x[3]}, span).at(s);
      return Eigen::VectorXd(Eigen::Vector2d(p.theta_rad, p.omega));
    };
    Eigen::VectorXd x(4);
    x << amplitude, law.dry, law.linear, law.quadratic;
    const Eigen::MatrixXd by = numeric_jacobian(f, x, Eigen::VectorXd::Constant(4, 1e-3));
    const PathPoint p = path.at(s);
    for (int k = 0; k < 4; ++k) {
      CAPTURE(k);
      // Turning points are found to 1e-15 of a step, so differences over 1e-6 carry 1e-9; the
      // path's own error has derivatives of the size of itself.
      const double bound = 2e-6;
      CHECK_THAT(p.theta_by[k], to_truncation(by(0, k), bound));
      CHECK_THAT(p.omega_by[k], to_truncation(by(1, k), bound));
    }
  }
}

TEST_CASE("dry friction stops the arm within its dead band", "[swing]") {
  const double dry = 0.01;
  const SwingPath path(0.06, {dry, 0.0, 0.0}, {0.0, 50.0});
  REQUIRE(path.stuck_s().has_value());
  // 2 dry a half swing (small angles): 0.06, 0.04, 0.02, 0: three half swings of pi.
  // Cubic terms: 0.06^3/6 and theta^2/16 of the period.
  CHECK_THAT(*path.stuck_s(), to_truncation(3.0 * kPi, 3.0 * kPi * 0.06 * 0.06));
  CHECK_THAT(path.at(49.0).theta_rad, to_truncation(0.0, 0.06 * 0.06 * 0.06));
  CHECK(path.at(49.0).omega == 0.0);
  const SwingPath held(0.5 * dry, {dry, 0.0, 0.0}, {0.0, 5.0});
  CHECK(held.stuck_s() == 0.0);
  CHECK(held.at(4.0).theta_rad == 0.5 * dry);
}

TEST_CASE("passes through an angle are found from both sides", "[swing]") {
  const SwingLaw law{0.002, 0.0, 0.01};
  const SwingPath path(rad(-80.0), law, {2.5, 2.5});
  const auto after = path.first_after(0.0);
  const auto before = path.last_before(0.0);
  REQUIRE(after.has_value());
  REQUIRE(before.has_value());
  CHECK(after->omega > 0.0);
  CHECK(before->omega < 0.0);
  // Loss: slower after than before.
  CHECK(after->omega < -before->omega);
  CHECK_THAT(path.at(after->s).theta_rad, to_rounding(0.0, 8));  // a bisection to rounding
  CHECK_FALSE(path.first_after(rad(-81.0)).has_value());
}

TEST_CASE("a path refuses what is no pendulum", "[swing]") {
  CHECK_THROWS_AS(SwingPath(4.0, SwingLaw{}, {0.0, 1.0}), std::logic_error);
  CHECK_THROWS_AS(SwingPath(1.0, SwingLaw{}, {0.0, -1.0}), std::logic_error);
  CHECK_THROWS_AS(SwingPath(1.0, {std::nan(""), 0, 0}, {0.0, 1.0}), std::logic_error);
}
