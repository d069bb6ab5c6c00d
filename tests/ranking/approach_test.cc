// SPDX-License-Identifier: Apache-2.0
#include "ranking/approach.h"

#include "core/angle.h"
#include "metrology/random_draws.h"
#include "support/test.h"

#include <cmath>

using namespace swingloss;

namespace {

/// Readings that follow a law exactly.
std::vector<Reading> made(
    ApproachLaw law, double initial, double final, double tau_s, double end_s) {
  std::vector<Reading> readings;
  for (int i = 0; i <= 12; ++i) {
    const double t_s = end_s * i / 12.0;
    readings.push_back({t_s, initial + (final - initial) * approach_share(law, t_s / tau_s)});
  }
  return readings;
}

}  // namespace

TEST_CASE("the plate law agrees with a 30-digit sum", "[truth]") {
  // c/cs of ISO 62's law (formula from memory), computed with mpmath; D t/d^2 = x / pi^2.
  struct Row {
    double dt_over_d2, share;
  };
  for (const Row& row : {Row{0.0001, 0.022567583341910114},
                         Row{0.001, 0.07136496464611064},
                         Row{0.005, 0.1595769121605729},
                         Row{0.01, 0.225675833418984},
                         Row{0.02, 0.31915373878249753},
                         Row{0.05, 0.5040878202025486},
                         Row{0.1, 0.6978819062267267},
                         Row{0.2, 0.8874028748164572},
                         Row{0.3, 0.958034169457963},
                         Row{0.5, 0.9941704789261604},
                         Row{1.0, 0.9999580747644166}}) {
    CAPTURE(row.dt_over_d2);
    CHECK_THAT(approach_share(ApproachLaw::Plate, row.dt_over_d2 * kPi * kPi),
               test::to_printed_digits(row.share, 12));
  }
  CHECK_THAT(approach_share(ApproachLaw::Plate, 1.0),
             test::to_printed_digits(0.7017970419711285, 12));
  CHECK(approach_share(ApproachLaw::Plate, 0.0) == 0.0);
}

TEST_CASE("the two series of the plate law meet", "[truth]") {
  const double below = approach_share(ApproachLaw::Plate, 0.5 - 1e-9);
  const double above = approach_share(ApproachLaw::Plate, 0.5 + 1e-9);
  // The slope there is 0.53: 1.1e-9 apart, and 1e-12 for the series.
  CHECK_THAT(above - below, test::to_truncation(1.06e-9, 0.1e-9));
}

TEST_CASE("approach_time agrees with the inverted plate law", "[truth]") {
  // D t/d^2 at which a share is reached, by root finding in mpmath.
  for (const auto& [share, dt_over_d2] : {std::pair{0.1, 0.0019634954084936226},
                                          {0.25, 0.012271846304720562},
                                          {0.5, 0.04918268488092832},
                                          {0.7, 0.10071261638459285},
                                          {0.9, 0.21202135201150596},
                                          {0.99, 0.44532199846672743}}) {
    CHECK_THAT(approach_time(ApproachLaw::Plate, share) / (kPi * kPi),
               test::to_printed_digits(dt_over_d2, 11));
  }
  // 1 - exp(-x) = 1/2 at ln 2.
  CHECK_THAT(approach_time(ApproachLaw::Exponential, 0.5), test::to_rounding(std::log(2.0), 2));
  CHECK(approach_time(ApproachLaw::Exponential, 0.0) == 0.0);
}

TEST_CASE("the exponential fit gives NIST's certified BoxBOD and Misra1a", "[truth]") {
  // [NISTStRD] y = b1 (1 - exp(-b2 x)): certified b1, b2, their standard deviations and the
  // residual sum of squares. The time constant is 1/b2; u of its logarithm is u(b2)/b2. The
  // search stops at 1e-9 of ln(tau); slopes by differences carry 1e-8.
  struct Row {
    const char* name;
    std::vector<Reading> readings;
    double b1, b2, u1, u2, squares;
  };
  const std::vector<Row> rows{{"BoxBOD",
                               {{1, 109}, {2, 149}, {3, 149}, {5, 191}, {7, 213}, {10, 224}},
                               213.80940889,
                               0.54723748542,
                               12.354515176,
                               0.10455993237,
                               1168.0088766},
                              {"Misra1a",
                               {{77.6, 10.07},
                                {114.9, 14.73},
                                {141.1, 17.94},
                                {190.8, 23.93},
                                {239.9, 29.61},
                                {289.0, 35.18},
                                {332.8, 40.02},
                                {378.4, 44.82},
                                {434.8, 50.76},
                                {477.3, 55.05},
                                {536.8, 61.01},
                                {593.1, 66.40},
                                {689.1, 75.47},
                                {760.0, 81.78}},
                               238.94212918,
                               0.00055015643181,
                               2.7070075241,
                               7.2668688436e-06,
                               0.12455138894}};
  ApproachOptions from_zero;
  from_zero.initial = 0.0;
  for (const Row& row : rows) {
    CAPTURE(row.name);
    const auto result = fit_approach(row.readings, ApproachLaw::Exponential, from_zero);
    REQUIRE(result.ok());
    const ApproachFit& fit = result.value();
    CHECK_THAT(fit.final, test::to_printed_digits(row.b1, 7));
    CHECK_THAT(1.0 / fit.time_constant_s, test::to_printed_digits(row.b2, 7));
    CHECK_THAT(fit.u_final, test::to_printed_digits(row.u1, 6));
    CHECK_THAT(fit.u_log_time_constant / fit.time_constant_s,
               test::to_printed_digits(row.u2, 6));
    CHECK_THAT(fit.sum_of_squares, test::to_printed_digits(row.squares, 9));
    CHECK(fit.u_initial == 0.0);
  }
}

TEST_CASE("a fit finds the law that made the readings") {
  for (const ApproachLaw law : {ApproachLaw::Plate, ApproachLaw::Exponential}) {
    for (const double end_s : {0.8e6, 3e6}) {
      const auto result = fit_approach(made(law, 10.0, 10.3, 1e6, end_s), law);
      REQUIRE(result.ok());
      const ApproachFit& fit = result.value();
      CAPTURE(name_of(law), end_s);
      // Exact readings near 10 carry 1e-15 of it; the search leaves about the root of that.
      CHECK_THAT(fit.final, test::to_truncation(10.3, 1e-5));
      CHECK_THAT(fit.initial, test::to_truncation(10.0, 1e-5));
      CHECK_THAT(fit.time_constant_s, test::to_truncation(1e6, 1e2));
      CHECK_THAT(fit.value_at(1e6),
                 test::to_truncation(10.0 + 0.3 * approach_share(law, 1.0), 1e-5));
    }
  }
}

TEST_CASE("stated uncertainties of a fit are the scatter of its results") {
  // Noisy records: the mean square of standard scores is 1.
  RandomDraws draws(71);
  const int records = 800;
  double final_squares = 0.0;
  double initial_squares = 0.0;
  double tau_squares = 0.0;
  for (int record = 0; record < records; ++record) {
    std::vector<Reading> readings = made(ApproachLaw::Plate, 10.0, 10.3, 1e6, 3e6);
    for (Reading& reading : readings) reading.value += 0.002 * draws.normal();
    const ApproachFit fit = fit_approach(readings, ApproachLaw::Plate).value();
    // The scale of u itself comes from 10 degrees of freedom: t, whose square has mean 10/8.
    final_squares += std::pow((fit.final - 10.3) / fit.u_final, 2) * 0.8;
    initial_squares += std::pow((fit.initial - 10.0) / fit.u_initial, 2) * 0.8;
    tau_squares +=
        std::pow(std::log(fit.time_constant_s / 1e6) / fit.u_log_time_constant, 2) * 0.8;
  }
  // Fourth moment of t with 10: mean square of scores deviates by sqrt(3 / records).
  CHECK_THAT(final_squares / records, test::to_truncation(1.0, 4.0 * std::sqrt(3.0 / records)));
  CHECK_THAT(initial_squares / records,
             test::to_truncation(1.0, 4.0 * std::sqrt(3.0 / records)));
  CHECK_THAT(tau_squares / records, test::to_truncation(1.0, 4.0 * std::sqrt(3.0 / records)));
}

TEST_CASE("fit_approach refuses what tells no end") {
  CHECK(fit_approach({{0, 1}, {1, 2}, {2, 3}}, ApproachLaw::Plate).failure().code ==
        "too-few-readings");
  CHECK(fit_approach({{0, 5}, {1, 5}, {2, 5}, {3, 5}}, ApproachLaw::Plate).failure().code ==
        "no-change");
  // A straight climb: as an exponential it never ends.
  const std::vector<Reading> straight{{0, 10.0}, {1, 10.1}, {2, 10.2}, {3, 10.3}, {4, 10.4}};
  CHECK(fit_approach(straight, ApproachLaw::Exponential).failure().code == "not-yet-bending");
}

TEST_CASE("a final value weighed ten times at rest is as sure as their mean") {
  RandomDraws draws(72);
  std::vector<Reading> readings;
  for (const double t_s :
       {0.0, 0.3, 0.8, 1.5, 20.0, 21.0, 22.0, 23.0, 24.0, 25.0, 26.0, 27.0, 28.0, 29.0}) {
    readings.push_back(
        {t_s, 10.0 + approach_share(ApproachLaw::Exponential, t_s) + 0.001 * draws.normal()});
  }
  const ApproachFit fit = fit_approach(readings, ApproachLaw::Exponential).value();
  // exp(-20) of the change is left at rest: the ten fix it, u = s / sqrt(10); the four early
  // ones, with two parameters of their own to settle, add less than one per cent.
  const double u = fit.residual_s / std::sqrt(10.0);
  CHECK_THAT(fit.u_final, test::to_truncation(u, 0.01 * u));
}
