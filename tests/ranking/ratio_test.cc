// SPDX-License-Identifier: Apache-2.0
#include "ranking/ratio.h"

#include "metrology/distributions.h"
#include "metrology/random_draws.h"
#include "ranking/sample.h"
#include "support/test.h"

#include <cmath>
#include <limits>

using namespace swingloss;

namespace {

const double kInfinite = std::numeric_limits<double>::infinity();

EstimatedMean sampled(RandomDraws& draws, double mean, double s, int n) {
  std::vector<double> values(static_cast<std::size_t>(n));
  for (double& value : values) value = mean + s * draws.normal();
  const Sample sample = summarise(values);
  return {sample.mean, sample.mean_variance(), sample.n - 1.0};
}

}  // namespace

TEST_CASE("the ends of the Fieller interval are just significant") {
  // By its definition [Fieller1954]: at each end (m1 - r m2)/u = +-t.
  const EstimatedMean a{24.0, 1.44, 6.0};
  const EstimatedMean b{20.0, 0.81, 6.0};
  const auto ratio = fieller_ratio(a, b, 0.95);
  REQUIRE(ratio.has_value());
  const double t = student_quantile(0.975, ratio->degrees_of_freedom);
  for (const double r : {*ratio->interval.low, *ratio->interval.high}) {
    const double u = std::sqrt(a.variance + r * r * b.variance);
    // Root of a quadratic with numbers near 400: a few tens of roundings.
    CHECK_THAT(std::abs(a.mean - r * b.mean) / u, test::to_rounding(t, 64));
  }
  CHECK(*ratio->interval.low < 1.2);
  CHECK(*ratio->interval.high > 1.2);
}

TEST_CASE("for little scatter Fieller's interval is the delta method's") {
  const EstimatedMean a{24.0, 0.01, kInfinite};
  const EstimatedMean b{20.0, 0.01, kInfinite};
  const auto ratio = fieller_ratio(a, b, 0.95);
  const double u = std::sqrt(0.01 / 576.0 + 0.01 / 400.0);
  const double z = 1.959963984540054;
  // The next term of the series is of order (z u)^2 of the half-length z u.
  CHECK_THAT(std::log(*ratio->interval.high / 1.2),
             test::to_truncation(z * u, std::pow(z * u, 2)));
  CHECK_THAT(std::log(1.2 / *ratio->interval.low),
             test::to_truncation(z * u, std::pow(z * u, 2)));
}

TEST_CASE("a moment that both means share cancels in their ratio") {
  const EstimatedMean a{24.0, 0.09, 4.0};
  const EstimatedMean b{20.0, 0.09, 4.0};
  SharedCovariance moment;  // 2 % of each
  moment.first = 0.48 * 0.48;
  moment.second = 0.40 * 0.40;
  moment.between = 0.48 * 0.40;
  const auto alone = fieller_ratio(a, b, 0.95);
  const auto same_rig = fieller_ratio(a, b, 0.95, moment);
  const double half = *alone->interval.high - *alone->interval.low;
  const double half_same = *same_rig->interval.high - *same_rig->interval.low;
  // Away from the estimate the moment's part grows with (r - ratio)^2 only: 0.4 * 0.04 against
  // 0.3 * 1.6 in u, below 1 % of the length.
  CHECK_THAT(half_same / half, test::to_truncation(1.0, 0.01));
  moment.between = 0.0;  // two rigs
  const auto two_rigs = fieller_ratio(a, b, 0.95, moment);
  CHECK(*two_rigs->interval.high - *two_rigs->interval.low > 1.3 * half);
}

TEST_CASE("a denominator that may be zero leaves the ratio without ends") {
  const auto ratio = fieller_ratio({5.0, 0.1, 4.0}, {0.5, 0.25, 4.0}, 0.95);
  REQUIRE(ratio.has_value());
  CHECK_FALSE(ratio->interval.low.has_value());
  CHECK_FALSE(fieller_ratio({5.0, 0.1, 4.0}, {0.0, 0.25, 4.0}, 0.95).has_value());
  CHECK_FALSE(fieller_ratio({5.0, 0.0, 4.0}, {4.0, 0.0, 4.0}, 0.95)->interval.low.has_value());
}

TEST_CASE("Fieller's interval covers the ratio in 93 to 97 of 100 worlds") {
  RandomDraws draws(21);
  int covered = 0;
  const int worlds = 4000;  // deviation 0.0035
  for (int world = 0; world < worlds; ++world) {
    const EstimatedMean a = sampled(draws, 15.0, 2.0, 5);
    const EstimatedMean b = sampled(draws, 10.0, 1.0, 5);
    const auto ratio = fieller_ratio(a, b, 0.95);
    covered += *ratio->interval.low <= 1.5 && 1.5 <= *ratio->interval.high ? 1 : 0;
  }
  CHECK(covered > 0.93 * worlds);
  CHECK(covered < 0.97 * worlds);
}

TEST_CASE("two one-sided tests are Fieller's 90 per cent interval inside the margin") {
  // With known variances the degrees of freedom are the same at every ratio, and the two agree
  // exactly. Means are moved until the interval leaves the margin.
  for (int step = 0; step < 250; ++step) {
    const double mean = 9.0 + 0.01 * step;
    const EstimatedMean a{mean, 0.02, kInfinite};
    const EstimatedMean b{10.0, 0.02, kInfinite};
    const auto interval = fieller_ratio(a, b, 0.90)->interval;
    const bool inside = *interval.low > 1.0 / 1.1 && *interval.high < 1.1;
    CAPTURE(mean);
    CHECK((equivalence_test(a, b, 0.10)->p_value < 0.05) == inside);
  }
}

TEST_CASE("equivalence_test calls a true difference of the margin equal in 5 of 100 worlds") {
  // At the edge of the margin the larger one-sided test alone decides: level alpha.
  RandomDraws draws(22);
  int called = 0;
  const int worlds = 4000;  // deviation 0.0034
  for (int world = 0; world < worlds; ++world) {
    const EstimatedMean a = sampled(draws, 11.0, 0.3, 5);
    const EstimatedMean b = sampled(draws, 10.0, 0.3, 5);
    called += equivalence_test(a, b, 0.10)->p_value <= 0.05 ? 1 : 0;
  }
  CHECK_THAT(called / static_cast<double>(worlds), test::to_uncertainty(0.05, 0.0034));
}

TEST_CASE("equivalence_test is the same whichever mean comes first") {
  const EstimatedMean a{10.3, 0.05, 4.0};
  const EstimatedMean b{10.0, 0.03, 5.0};
  // r and 1/r lead to the same t through other products: a few roundings.
  CHECK_THAT(equivalence_test(a, b, 0.1)->p_value,
             test::to_rounding(equivalence_test(b, a, 0.1)->p_value, 64));
  CHECK_FALSE(equivalence_test({-1.0, 0.1, 4.0}, b, 0.1).has_value());
  CHECK_FALSE(equivalence_test({10.0, 0.0, 4.0}, {10.0, 0.0, 4.0}, 0.1).has_value());
}
