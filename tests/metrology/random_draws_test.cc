// SPDX-License-Identifier: Apache-2.0
#include "metrology/random_draws.h"

#include "metrology/distributions.h"
#include "metrology/monte_carlo.h"
#include "support/test.h"

#include <cmath>
#include <functional>
#include <limits>

using namespace swingloss;

namespace {

constexpr int kDraws = 40000;

/// Share of draws up to `limit` against the probability of it: a share of n draws has deviation
/// sqrt(p (1 - p) / n).
void check_share(const std::function<double(RandomDraws&)>& draw, double limit, double p) {
  CAPTURE(limit, p);
  RandomDraws draws(20240607);
  int below = 0;
  for (int i = 0; i < kDraws; ++i) below += draw(draws) <= limit ? 1 : 0;
  CHECK_THAT(below / static_cast<double>(kDraws),
             test::to_uncertainty(p, std::sqrt(p * (1.0 - p) / kDraws)));
}

}  // namespace

TEST_CASE("draws follow their distributions", "[metrology][synthetic]") {
  for (const double p : {0.001, 0.1, 0.5, 0.8, 0.999}) {
    check_share([](RandomDraws& d) { return d.uniform(); }, p, p);
    check_share([](RandomDraws& d) { return d.normal(); }, normal_quantile(p), p);
    for (const double dof : {0.7, 1.0, 4.0, 30.0}) {
      CAPTURE(dof);
      check_share([dof](RandomDraws& d) { return d.chi_squared(dof); },
                  chi_squared_quantile(p, dof),
                  p);
      check_share(
          [dof](RandomDraws& d) { return d.student(dof); }, student_quantile(p, dof), p);
    }
  }
}

TEST_CASE("distributions of inputs are where and as wide as they say",
          "[metrology][synthetic]") {
  // Cumulative distributions in closed form, at a quarter of the way between the limits 2
  // and 6.
  const double quarter = 3.0;
  const auto share = [](const Distribution& x, double limit, double p) {
    check_share([&x](RandomDraws& d) { return x.draw(d); }, limit, p);
  };
  share(Distribution::rectangular(2.0, 6.0), quarter, 0.25);
  share(Distribution::triangular(2.0, 6.0), quarter, 0.125);
  share(Distribution::arcsine(2.0, 6.0), quarter, 1.0 / 3.0);
  share(Distribution::normal(4.0, 2.0), 2.0, normal_cdf(-1.0));
  share(Distribution::student(4.0, 2.0, 3.0), 2.0, student_cdf(-1.0, 3.0));

  // [JCGM101] table 1 and 6.4: half-width 2 over the root of 3, 6, 2; one rounding each.
  CHECK_THAT(Distribution::rectangular(2.0, 6.0).u(),
             test::to_rounding(2.0 / std::sqrt(3.0), 2));
  CHECK_THAT(Distribution::triangular(2.0, 6.0).u(),
             test::to_rounding(2.0 / std::sqrt(6.0), 2));
  CHECK_THAT(Distribution::arcsine(2.0, 6.0).u(), test::to_rounding(std::sqrt(2.0), 2));
  CHECK_THAT(Distribution::student(0.0, 2.0, 4.0).u(), test::to_rounding(std::sqrt(8.0), 2));
  CHECK(std::isinf(Distribution::student(0.0, 2.0, 2.0).u()));
  CHECK(Distribution::arcsine(2.0, 6.0).mean() == 4.0);
  CHECK_THROWS_AS(Distribution::rectangular(1.0, 1.0), std::logic_error);
  CHECK_THROWS_AS(Distribution::normal(1.0, -1.0), std::logic_error);
}

TEST_CASE("one seed gives one stream", "[metrology]") {
  RandomDraws a(7);
  RandomDraws b(7);
  RandomDraws other(8);
  int equal_to_other = 0;
  for (int i = 0; i < 100; ++i) {
    const double x = a.normal();
    CHECK(x == b.normal());
    equal_to_other += x == other.normal() ? 1 : 0;
  }
  CHECK(equal_to_other == 0);
}

TEST_CASE("uniform draws never reach their ends", "[metrology]") {
  RandomDraws draws(1);
  for (int i = 0; i < kDraws; ++i) {
    const double x = draws.uniform();
    if (x <= 0.0 || x >= 1.0) FAIL("an end was drawn");
  }
}
