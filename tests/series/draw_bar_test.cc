// SPDX-License-Identifier: Apache-2.0
#include "series/draw_bar.h"

#include "core/angle.h"
#include "series/conclude.h"
#include "support/test.h"

#include <cmath>
#include <limits>

using namespace swingloss;

namespace {

/// A bar filmed on a rig of 2 N m from 90 degrees; rise and its doubt as given.
BarResult filmed(double rise_rad,
                 double u_rise_rad,
                 double degrees_of_freedom = std::numeric_limits<double>::infinity()) {
  Specimen specimen;
  specimen.id = "B1";
  specimen.material = "Korvel";
  SwingRecord record;
  SwingMeasurement& swing = record.measurement;
  swing.outcome = Outcome::Broken;
  swing.release_angle_rad = Uncertain::exact(kPi / 2.0);
  swing.rise_angle_rad =
      Uncertain::from(rise_rad, u_rise_rad, "tracking", SourceKind::Own, degrees_of_freedom);
  swing.friction_J = Uncertain::exact(0.0);
  const Uncertain moment_Nm = Uncertain::exact(2.0);
  swing.raw_absorbed_J = moment_Nm * cos(*swing.rise_angle_rad);
  swing.absorbed_J = swing.raw_absorbed_J;
  ConcludeOptions options;
  return conclude_filmed(specimen, record, options);
}

MonteCarloOptions draws() {
  MonteCarloOptions options;
  options.trials = 200000;
  return options;
}

}  // namespace

TEST_CASE("drawn uncertainty is first order's where the law is straight", "[series]") {
  const BarResult bar = filmed(1.0, 0.002);
  const auto drawn = draw_bar(bar, Quantity::Energy_J, Uncertain::exact(2.0), draws());
  REQUIRE(drawn.has_value());
  // u of a standard deviation from n normal draws is 1/sqrt(2 n) of it.
  CHECK_THAT(drawn->drawn.u,
             test::to_uncertainty(drawn->first_order_u,
                                  drawn->first_order_u / std::sqrt(2.0 * 200000.0)));
  CHECK_FALSE(drawn->differs);
  // An end at 97.5 % scatters by sqrt(p (1 - p)/n)/phi(1.96) = 0.006 u over n draws.
  CHECK(drawn->gap_in_u > 0.0);
  CHECK(drawn->gap_in_u < 0.05);
}

TEST_CASE("a rise at the bottom has a doubt that first order does not see", "[series]") {
  // W = 2 cos(b), b normal about 0 with u: exactly, E W = 2 exp(-u^2/2) and
  // var W = 4 ((1 + exp(-2 u^2))/2 - exp(-u^2)), while first order has sin(0) = 0.
  const double u = 0.1;
  BarResult bar = filmed(0.001, u);
  const auto drawn = draw_bar(bar, Quantity::Energy_J, Uncertain::exact(2.0), draws());
  REQUIRE(drawn.has_value());
  const double exact_u =
      2.0 * std::sqrt(0.5 * (1.0 + std::exp(-2.0 * u * u)) - std::exp(-u * u));
  // W is about 2 - b^2: chi squared, whose fourth moment makes the deviation of s^2 over n
  // draws sqrt(14/n) of s^2, half of that for s.
  CHECK_THAT(drawn->drawn.u,
             test::to_uncertainty(exact_u, exact_u * std::sqrt(3.5 / 200000.0)));
  CHECK(drawn->differs);
  CHECK(drawn->first_order_u < 0.1 * exact_u);
  CHECK(drawn->gap_in_u > 10.0);
}

TEST_CASE("drawn energies are height less friction, and all of the height where the bar held",
          "[series]") {
  BarResult bar = filmed(1.0, 0.002);
  SwingMeasurement& swing = bar.swing->measurement;
  swing.release_angle_rad = Uncertain::exact(2.0);
  swing.friction_J = Uncertain::exact(0.25);
  // 2 N m from 2 rad to 1 rad; the mean of n draws scatters by u/sqrt(n). Second order:
  // half of u^2 times the energy, 2e-6 of it.
  const double u_mean = 2.0 * std::sin(1.0) * 0.002 / std::sqrt(200000.0);
  const auto broken = draw_bar(bar, Quantity::Energy_J, Uncertain::exact(2.0), draws());
  REQUIRE(broken.has_value());
  CHECK_THAT(broken->drawn.mean,
             test::to_uncertainty(2.0 * (std::cos(1.0) - std::cos(2.0)) - 0.25, u_mean));
  swing.release_angle_rad = Uncertain::from(2.0, 0.002, "hold", SourceKind::Own);
  swing.censoring = Censoring::Right;
  const auto held = draw_bar(bar, Quantity::Energy_J, Uncertain::exact(2.0), draws());
  REQUIRE(held.has_value());
  CHECK_THAT(held->drawn.mean,
             test::to_uncertainty(2.0 * (1.0 - std::cos(2.0)) - 0.25,
                                  2.0 * std::sin(2.0) * 0.002 / std::sqrt(2e5)));
}

TEST_CASE("bars are drawn with the moment of their own rig, and kept where it tells",
          "[series]") {
  SeriesResult series;
  series.bars = {filmed(1.0, 0.002), filmed(0.001, 0.1)};
  for (const double moment_Nm : {7.0, 2.0}) {
    Rig rig;
    rig.name = moment_Nm == 2.0 ? "own" : "other";
    rig.pendulum.moment_Nm = Uncertain::exact(moment_Nm);
    series.rigs.push_back(rig);
  }
  for (BarResult& bar : series.bars) bar.bar.rig = "own";
  series.ranking = Ranking();
  series.ranking->quantity = Quantity::Energy_J;
  series.ranking_options.confidence = 0.5;
  SeriesResult asked = series;
  draw_bars(series, false, 1);
  CHECK_FALSE(series.bars[0].drawn.has_value());
  REQUIRE(series.bars[1].drawn.has_value());
  CHECK(series.bars[1].remarks.back().code == "first-order-off");
  draw_bars(asked, true, 2);
  REQUIRE(asked.bars[0].drawn.has_value());
  CHECK(asked.bars[0].drawn->drawn.trials == 200000);
  const CoverageInterval& middle = asked.bars[0].drawn->drawn.symmetric;
  // Half of a normal lies within 0.67449 u; a quartile of n draws scatters by
  // sqrt(3/16/n)/phi(0.67449) = 0.0031 u, the half of two of them by less.
  const double u = 2.0 * std::sin(1.0) * 0.002;
  CHECK_THAT(0.5 * (middle.high - middle.low), test::to_uncertainty(0.67449 * u, 0.0031 * u));
  CHECK_THAT(
      asked.bars[0].drawn->drawn.mean,
      test::to_uncertainty(2.0 * std::cos(1.0), 2.0 * std::sin(1.0) * 0.002 / std::sqrt(2e5)));
}

TEST_CASE("a straight law with a source of few degrees of freedom is drawn", "[series]") {
  SeriesResult series;
  // A t distribution of 5 degrees of freedom is sqrt(5/3) = 1.29 times as wide as its u.
  series.bars = {filmed(1.0, 0.002, 5.0), filmed(1.0, 0.002, 500.0)};
  series.ranking = Ranking();
  series.ranking->quantity = Quantity::Energy_J;
  Rig rig;
  rig.pendulum.moment_Nm = Uncertain::exact(2.0);
  series.rigs.push_back(rig);
  for (BarResult& bar : series.bars) bar.bar.rig = rig.name;
  draw_bars(series, false, 1);
  CHECK(series.bars[0].drawn.has_value());
  CHECK_FALSE(series.bars[1].drawn.has_value());
}

TEST_CASE("strength is drawn with its section", "[series]") {
  Specimen specimen;
  specimen.id = "T1";
  specimen.material = "Korvel";
  specimen.energy_J = 1.0;
  specimen.energy_u_J = 0.02;
  specimen.thickness_mm = 4.0;
  specimen.width_mm = 8.0;
  ConcludeOptions options;
  options.section_u_mm = 0.08;
  const BarResult bar = conclude_typed(specimen, options);
  const auto drawn = draw_bar(bar, Quantity::Strength_kJ_m2, {}, draws());
  REQUIRE(drawn.has_value());
  // Relative: 2 %, 2 % and 1 %, together 3 %; second order adds (2 %)^2 of it and less.
  CHECK_THAT(drawn->drawn.u / (1000.0 / 32.0), test::to_truncation(0.03, 0.03 * 0.01));
}
