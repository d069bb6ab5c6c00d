// SPDX-License-Identifier: Apache-2.0
#include "swing/period_ratio.h"

#include "core/angle.h"
#include "support/test.h"

#include <cmath>
#include <utility>

using namespace swingloss;
using namespace swingloss::test;

TEST_CASE("complete_elliptic_k agrees with the tables", "[swing][truth]") {
  // Abramowitz & Stegun, table 17.1, by parameter m = k^2; K(1/2) from 17.1.
  const std::pair<double, double> table[] = {{0.0, 1.5707963267948966},
                                             {0.1, 1.6124413487202194},
                                             {0.3, 1.7138894481787912},
                                             {0.5, 1.854074677301372},
                                             {0.7, 2.075363135292469},
                                             {0.9, 2.5780921133481733}};
  for (const auto& [m, k] : table) {
    CAPTURE(m);
    // sqrt(m) is rounded (dK/dm is up to 2 K at m = 0.9) and the mean takes a few roundings.
    CHECK_THAT(complete_elliptic_k(std::sqrt(m)), to_rounding(k, 12));
  }
  CHECK_THROWS_AS(complete_elliptic_k(1.0), std::logic_error);
}

TEST_CASE("period_ratio gives the published periods", "[swing][truth]") {
  // Periods for L = 1 m, g = 9.81 m/s^2 with 17 digits: numerical methods page of George Mason
  // University's physics department, as copied into the reference values.
  const std::pair<double, double> table[] = {{10, 2.0098926272986004},
                                             {20, 2.0214512578245762},
                                             {30, 2.04098988951913},
                                             {40, 2.068937851893589},
                                             {50, 2.105934619283643},
                                             {60, 2.1528746668805154},
                                             {70, 2.210976180542186},
                                             {80, 2.2818859240196394}};
  for (const auto& [deg, period_s] : table) {
    CAPTURE(deg);
    const double small_s = 2.0 * kPi / std::sqrt(9.81);
    // About five roundings on each of the two ways; 14 of the 17 printed digits agree.
    CHECK_THAT(small_s * period_ratio(Angle::from_deg(deg)), to_rounding(period_s, 40));
    CHECK_THAT(reduced_length_m(period_s, Angle::from_deg(deg), 9.81), to_rounding(1.0, 80));
  }
}

TEST_CASE("period_ratio reaches the published thresholds", "[swing][truth]") {
  // Amplitudes at which (T - T0)/T is 0.1, 1, 10 %: same page.
  const std::pair<double, double> table[] = {
      {0.001, 0.12649636954594307}, {0.01, 0.4001643197024617}, {0.1, 1.2693297098173169}};
  for (const auto& [fraction, amplitude_rad] : table) {
    CAPTURE(fraction);
    // 1/(1 - fraction) to the rounding of both sides.
    CHECK_THAT(period_ratio(Angle::from_rad(amplitude_rad)),
               to_rounding(1.0 / (1.0 - fraction), 20));
  }
}

TEST_CASE("period_ratio agrees with the printed table to its digits", "[swing][truth]") {
  // Table at calculatorlib.com's amplitude correction, six digits (its table, not its prose).
  CHECK_THAT(period_ratio(Angle::from_deg(30.0)), to_printed_digits(1.017409, 7));
  // Arithmetic in mpmath with 30 digits, quoted to 13.
  const std::pair<double, double> far[] = {{90, 1.180340599016},
                                           {120, 1.372880500618},
                                           {150, 1.762203729504},
                                           {170, 2.439362719674},
                                           {179, 3.901065160389}};
  for (const auto& [deg, ratio] : far) {
    CAPTURE(deg);
    CHECK_THAT(period_ratio(Angle::from_deg(deg)), to_printed_digits(ratio, 13));
  }
}

TEST_CASE("a uniform rod swings as the textbook says", "[swing][truth]") {
  // About its end: reduced length 2L/3; T = 1.638226327340569 s for L = 1 m, g = 9.80665
  // (closed form, 2 pi sqrt(2 L / 3 g)).
  // Two roundings of the quoted period, two of the square.
  CHECK_THAT(reduced_length_m(1.638226327340569, Angle(), 9.80665), to_rounding(2.0 / 3.0, 8));
  CHECK_THROWS_AS(reduced_length_m(0.0, Angle(), 9.8), std::logic_error);
}
