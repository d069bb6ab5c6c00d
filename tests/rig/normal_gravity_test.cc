// SPDX-License-Identifier: Apache-2.0
#include "rig/normal_gravity.h"

#include "support/test.h"

using namespace swingloss;
using namespace swingloss::test;

TEST_CASE("normal gravity agrees with the published values", "[rig][truth]") {
  // WGS 84 as published by NIMA TR8350.2, ten decimals (from memory there, derived anew from
  // the defining constants in the reference values): equator and pole.
  CHECK_THAT(normal_gravity_m_per_s2(0.0, 0.0), to_printed_decimals(9.7803253359, 10));
  // The published k ends in ...241 for the derived ...267: 3e-13 of g at the pole.
  CHECK_THAT(normal_gravity_m_per_s2(90.0, 0.0), to_truncation(9.8321849379, 2e-10));
  CHECK_THAT(normal_gravity_m_per_s2(45.0, 0.0), to_printed_decimals(9.8061977694, 9));
}

TEST_CASE("normal gravity agrees with the table by latitude and height", "[rig][truth]") {
  // Derived from the defining constants of WGS 84 apart from this code, eight decimals; the
  // height by the expansion to second order.
  struct Row {
    double latitude_deg, sea, at_1000_m;
  };
  const Row rows[] = {{0, 9.78032534, 9.77723837},
                      {10, 9.78188240, 9.77879556},
                      {20, 9.78636810, 9.78328163},
                      {30, 9.79324727, 9.79016137},
                      {40, 9.80169686, 9.79861166},
                      {50, 9.81070214, 9.80761768},
                      {52.5, 9.81291270, 9.80982843},
                      {60, 9.81917695, 9.81609321},
                      {70, 9.82609476, 9.82301159},
                      {80, 9.83061445, 9.82753166},
                      {90, 9.83218494, 9.82910227}};
  for (const Row& row : rows) {
    CAPTURE(row.latitude_deg);
    CHECK_THAT(normal_gravity_m_per_s2(row.latitude_deg, 0.0), to_printed_decimals(row.sea, 8));
    CHECK_THAT(normal_gravity_m_per_s2(row.latitude_deg, 1000.0),
               to_printed_decimals(row.at_1000_m, 8));
    CHECK_THAT(normal_gravity_m_per_s2(-row.latitude_deg, 0.0),
               to_printed_decimals(row.sea, 8));
  }
}

TEST_CASE("normal gravity of the 1980 ellipsoid agrees with Moritz", "[rig][truth]") {
  // H. Moritz, Geodetic Reference System 1980: equator 9.7803267715, pole 9.8321863685,
  // k = 0.001931851353, e^2 = 0.00669438002290 (from memory).
  const LevelEllipsoid grs80{9.7803267715,
                             0.001931851353,
                             0.00669438002290,
                             6378137.0,
                             1.0 / 298.257222101,
                             0.00344978600308};
  // k is printed to ten digits: 5e-13 of g.
  CHECK_THAT(normal_gravity_m_per_s2(90.0, 0.0, grs80), to_truncation(9.8321863685, 1e-10));
  CHECK_THAT(normal_gravity_m_per_s2(45.0, 0.0, grs80), to_printed_decimals(9.8061992025, 9));
}

TEST_CASE("the free-air gradient is the customary one", "[rig][truth]") {
  // 3.086e-6 per s^2, customary in gravimetry; it varies by 0.1 % with latitude.
  const double per_m =
      (normal_gravity_m_per_s2(45.0, 0.0) - normal_gravity_m_per_s2(45.0, 10.0)) / 10.0;
  CHECK_THAT(per_m, to_truncation(3.086e-6, 0.003e-6));
}

TEST_CASE("local gravity carries the doubt of what lies below", "[rig]") {
  const Uncertain g = local_gravity_m_per_s2(48.0, 500.0);
  CHECK(g.u() > 5e-4);
  CHECK(g.u() < 1e-3);
  CHECK(g.parts().at(0).source == "rig.gravity");
  CHECK(g.parts().at(0).kind == SourceKind::Shared);
  CHECK_THROWS_AS(normal_gravity_m_per_s2(91.0, 0.0), std::logic_error);
}
