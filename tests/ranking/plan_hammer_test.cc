// SPDX-License-Identifier: Apache-2.0
#include "ranking/plan_hammer.h"

#include "core/angle.h"
#include "core/input_error.h"
#include "support/test.h"

#include <cmath>

using namespace swingloss;

namespace {

double rad(double deg) { return Angle::from_deg(deg).rad(); }

Hammer hammer(const std::string& name, double moment_Nm, double most_deg) {
  Hammer made;
  made.name = name;
  made.moment_Nm = Uncertain::exact(moment_Nm);
  made.release_most_rad = rad(most_deg);
  made.u_release_rad = rad(0.1);
  made.u_rise_rad = rad(0.1);
  return made;
}

}  // namespace

TEST_CASE("u(W) over the release angle agrees with exact moments of the energy law",
          "[truth]") {
  // Energies and first-order u of M (cos b - cos a) with normal angle errors, computed with
  // exact moments E[cos] = cos(mu) exp(-u^2/2): first order and exact agree to five digits.
  struct Row {
    double moment, release_deg, rise_deg, u_release_deg, u_rise_deg, energy, u;
  };
  for (const Row& row :
       {Row{15, 150, 90, 0.1, 0.1, 12.99038105676658, 0.02927006137933636},
        Row{4, 150, 120, 0.2, 0.5, 1.4641016151377555, 0.031025651427907187},
        Row{25, 140, 30, 0.05, 0.3, 40.80174617258542, 0.0669353391114555},
        Row{1, 150, 145, 0.1, 0.1, 0.04687335949544669, 0.0013280452464210135}}) {
    CAPTURE(row.release_deg, row.rise_deg);
    Hammer made = hammer("H", row.moment, 160.0);
    made.u_release_rad = rad(row.u_release_deg);
    made.u_rise_rad = rad(row.u_rise_deg);
    const ReleaseRow found = plan_release(made, row.energy, {rad(row.release_deg)}).front();
    REQUIRE(found.rise_rad.has_value());
    CHECK_THAT(Angle::from_rad(*found.rise_rad).deg(),
               test::to_printed_digits(row.rise_deg, 10));
    CHECK_THAT(found.absorbed_J->value(), test::to_printed_digits(row.energy, 10));
    CHECK_THAT(found.absorbed_J->u(), test::to_printed_digits(row.u, 9));
  }
}

TEST_CASE("a zero error adds to the release and takes from the rise") {
  Hammer made = hammer("H", 4.0, 150.0);
  made.u_release_rad = 0.0;
  made.u_rise_rad = 0.0;
  made.u_zero_rad = rad(0.1);
  const ReleaseRow row = plan_release(made, 2.0, {rad(150.0)}).front();
  // dW = M (sin a + sin b) d: three sines and a root away.
  const double wanted = 4.0 * (std::sin(rad(150.0)) + std::sin(*row.rise_rad)) * rad(0.1);
  CHECK_THAT(row.absorbed_J->u(), test::to_rounding(wanted, 32));
}

TEST_CASE("rows say what share is used, whether it is in the window, and how fast") {
  Hammer made = hammer("H", 4.0, 150.0);
  made.strike_radius_m = 0.4;
  made.friction_J = Uncertain::exact(0.05);
  const auto rows = plan_release(made, 1.0, {rad(20.0), rad(60.0), rad(120.0)});
  CHECK_FALSE(rows[0].rise_rad.has_value());  // 0.19 J at hand: the bar holds
  CHECK(rows[0].used_fraction > 1.0);
  CHECK_THAT(rows[1].available_J, test::to_rounding(1.95, 8));
  CHECK(rows[1].in_window);
  CHECK_THAT(rows[1].absorbed_J->value(), test::to_rounding(1.0, 16));
  // v = sqrt(2 g R (1 - cos 60)): sqrt(9.80665 0.4).
  CHECK_THAT(*rows[1].impact_speed_m_per_s, test::to_rounding(std::sqrt(9.80665 * 0.4), 8));
  CHECK(rows[2].in_window);
  CHECK_FALSE(plan_release(made, 0.1, {rad(120.0)}).front().in_window);
}

TEST_CASE("of the hammers that suit the one with most energy is recommended") {
  // Capacities 1, 4 and 25 J; bars of 0.6 to 1.0 J. [ISO13802] 10 to 80 %, from memory.
  const auto choices = choose_hammer(
      {hammer("small", 0.5, 180.0), hammer("middle", 2.0, 180.0), hammer("large", 12.5, 180.0)},
      0.6,
      1.0);
  CHECK_FALSE(choices[0].suits);
  CHECK(choices[0].words.find("Too small") == 0);
  CHECK(choices[1].suits);
  CHECK(choices[2].suits);
  CHECK(choices[2].recommended);
  CHECK(choices[2].words.find("slower") != std::string::npos);
  // 1.0 J is 80 % of 1.25 J, 0.6 J is 10 % of 6 J: 1 - cos a = E / M.
  CHECK_THAT(*choices[2].release_low_rad, test::to_rounding(std::acos(1.0 - 1.25 / 12.5), 32));
  CHECK_THAT(*choices[2].release_high_rad, test::to_rounding(std::acos(1.0 - 6.0 / 12.5), 32));
  CHECK_THAT(*choices[1].release_high_rad, test::to_rounding(kPi, 2));
  CHECK(choices[1].relative_u > 0.0);
}

TEST_CASE("a range wider than the window suits no hammer") {
  const auto choices = choose_hammer({hammer("large", 12.5, 180.0)}, 0.1, 5.0);
  CHECK_FALSE(choices.front().suits);
  CHECK_FALSE(choices.front().recommended);
  CHECK(choices.front().words.find("too wide") != std::string::npos);
}

TEST_CASE("plans out of range are refused by name") {
  CHECK_THROWS_AS(plan_release(hammer("H", 4.0, 150.0), 1.0, {rad(170.0)}), InputError);
  CHECK_THROWS_AS(plan_release(hammer("H", 0.0, 150.0), 1.0, {rad(90.0)}), InputError);
  CHECK_THROWS_AS(plan_release(hammer("H", 4.0, 150.0), 0.0, {rad(90.0)}), InputError);
  CHECK_THROWS_AS(choose_hammer({hammer("H", 4.0, 150.0)}, 2.0, 1.0), InputError);
  CHECK(choose_hammer({}, 1.0, 2.0).empty());
}
