// SPDX-License-Identifier: Apache-2.0
#include "ranking/belief.h"

#include "metrology/distributions.h"
#include "metrology/random_draws.h"
#include "ranking/sample.h"
#include "ranking/welch.h"
#include "support/test.h"

#include <cmath>
#include <limits>

using namespace swingloss;

namespace {

const double kInfinite = std::numeric_limits<double>::infinity();

std::vector<CensoredValue> plain(const std::vector<double>& values) {
  std::vector<CensoredValue> all;
  all.reserve(values.size());
  for (const double value : values) all.push_back({value, Limit::None});
  return all;
}

}  // namespace

TEST_CASE("a belief of a mean has Student's quantiles", "[truth]") {
  // [JCGM100 Table G.2], four degrees of freedom, 95 %: 2.776445105. Nodes stand 1/16 apart;
  // between them the curve is straight, off by at most 1/8 (1/16)^2 of its second derivative,
  // which is below 4 up to this score.
  const Belief belief = Belief::of_mean(10.0, 2.0, 4.0);
  const double z = 1.959963984540054;
  CHECK_THAT(belief.at(z),
             test::to_truncation(10.0 + 2.0 * 2.776445105, 2.0 * 4.0 / 8.0 / 256.0));
  CHECK_THAT(belief.at(-z),
             test::to_truncation(10.0 - 2.0 * 2.776445105, 2.0 * 4.0 / 8.0 / 256.0));
  CHECK(belief.at(0.0) == 10.0);
  CHECK(belief.score_of(belief.at(0.0)) == 0.0);
  // score_of inverts at() on the same straight pieces: rounding only.
  for (const double score : {-4.9, -1.234, 0.3, 2.5}) {
    CHECK_THAT(belief.score_of(belief.at(score)), test::to_rounding(score, 4000));
  }
  CHECK(belief.score_of(1e9) == 5.0);
  CHECK(belief.score_of(-1e9) == -5.0);
}

TEST_CASE("the belief of an uncensored group by likelihood is Student's too") {
  // The small-sample profile of plain values is t exactly; two ways to the same curve. Straight
  // pieces of the walk and of the nodes each leave a few 1e-3 of u.
  const std::vector<double> values{2.1, 2.3, 2.0, 2.25, 2.2};
  const Sample sample = summarise(values);
  const double u = std::sqrt(sample.mean_variance());
  const Belief student = Belief::of_mean(sample.mean, u, 4.0);
  const auto fit = fit_censored(plain(values), Scatter::Normal);
  const Belief likelihood = Belief::of_censored(plain(values), fit.value());
  for (const double score : {-3.0, -1.96, -0.5, 0.0, 0.7, 1.96, 3.0}) {
    CAPTURE(score);
    CHECK_THAT(likelihood.at(score), test::to_truncation(student.at(score), 0.01 * u));
  }
}

TEST_CASE("the belief of a censored group leans to the side of the limits") {
  std::vector<CensoredValue> values = plain({3.1, 3.4, 2.9});
  values.push_back({3.9, Limit::Above});
  values.push_back({3.9, Limit::Above});
  const auto fit = fit_censored(values, Scatter::Normal);
  const Belief belief = Belief::of_censored(values, fit.value());
  const double middle = belief.at(0.0);
  CHECK(belief.at(1.96) - middle > 1.5 * (middle - belief.at(-1.96)));
  const Interval interval = profile_interval(values, fit.value(), small_sample_drop(5, 0.95));
  // The same profile read at its nodes: the straight pieces leave 1e-3 of the length.
  const double length = *interval.high - *interval.low;
  CHECK_THAT(belief.at(1.959964), test::to_truncation(*interval.high, 2e-3 * length));
  CHECK_THAT(belief.at(-1.959964), test::to_truncation(*interval.low, 2e-3 * length));
}

TEST_CASE("beliefs with known variances compare as a z test") {
  // Smallest sum of two squared scores: (m1 - m2)^2 / (u1^2 + u2^2), the z test's chi squared.
  const Belief a = Belief::of_mean(10.0, 0.3, kInfinite);
  const Belief b = Belief::of_mean(9.0, 0.4, kInfinite);
  // The search stops 1e-6 from the minimum, where the sum is flat.
  CHECK_THAT(equal_beliefs_p(a, b), test::to_truncation(2.0 * normal_upper_tail(2.0), 1e-9));
  const Interval difference = belief_difference(a, b, 0.95);
  CHECK_THAT(*difference.low, test::to_truncation(1.0 - 0.5 * 1.959963984540054, 1e-6));
  CHECK_THAT(*difference.high, test::to_truncation(1.0 + 0.5 * 1.959963984540054, 1e-6));
  // A shared doubt of 0.5 doubles the variance.
  CHECK_THAT(equal_beliefs_p(a, b, 0.5),
             test::to_truncation(2.0 * normal_upper_tail(std::sqrt(2.0)), 1e-9));
  CHECK_THAT(belief_above(a, b, 0.5), test::to_truncation(normal_upper_tail(1.0), 1e-9));
  CHECK_THAT(belief_above(a, b, 1.5), test::to_truncation(normal_cdf(1.0), 1e-9));
}

TEST_CASE("comparing censored groups keeps false alarms at the level") {
  // Five and five bars of one mean, scatters 1 and 2, three in ten of the first above a limit.
  // 1500 worlds: deviation 0.0056. At most 5 of 100, and not so few that nothing is ever found.
  RandomDraws draws(31);
  int worlds = 0;
  int alarms = 0;
  int covered = 0;
  for (int world = 0; world < 1500; ++world) {
    std::vector<CensoredValue> first;
    std::vector<double> second;
    for (int i = 0; i < 5; ++i) {
      const double value = draws.normal();
      first.push_back(value > 0.5244 ? CensoredValue{0.5244, Limit::Above}
                                     : CensoredValue{value, Limit::None});
      second.push_back(2.0 * draws.normal());
    }
    const auto fit = fit_censored(first, Scatter::Normal);
    if (!fit.ok()) continue;
    const Sample sample = summarise(second);
    const Belief a = Belief::of_censored(first, fit.value());
    const Belief b = Belief::of_mean(sample.mean, std::sqrt(sample.mean_variance()), 4.0);
    ++worlds;
    alarms += equal_beliefs_p(a, b) <= 0.05 ? 1 : 0;
    if (world % 5 != 0) continue;
    const Interval interval = belief_difference(a, b, 0.95);
    const bool holds =
        (!interval.low || *interval.low <= 0.0) && (!interval.high || *interval.high >= 0.0);
    covered += holds == (equal_beliefs_p(a, b) > 0.05) ? 1 : 0;
  }
  CHECK(alarms < (0.05 + 2.0 * 0.0056) * worlds);
  CHECK(alarms > 0.015 * worlds);
  CHECK(covered >= worlds / 5 - 20);
}

TEST_CASE("a range belief puts the stated chance below the bound") {
  const Belief belief = Belief::of_range(2.0, 4.0, 8.0, 0.1);
  CHECK(belief.at(-5.0) >= 2.0);
  CHECK(belief.at(5.0) <= 8.0);
  // The bend lies between two nodes 1/16 apart, where the density is 0.18.
  CHECK_THAT(normal_cdf(belief.score_of(4.0)), test::to_truncation(0.1, 0.18 / 16.0));
  CHECK_THAT(belief.at(normal_quantile(0.55)), test::to_truncation(6.0, 0.01));
}

TEST_CASE("scaled and logarithmic beliefs are functions of the place") {
  const Belief belief = Belief::of_mean(10.0, 1.0, 6.0);
  // Straight pieces map to straight pieces at the nodes; 1.5 is a node.
  CHECK_THAT(belief.scaled(1.0, 2.0).at(1.5), test::to_rounding(1.0 + 2.0 * belief.at(1.5), 4));
  CHECK_THAT(belief.logarithm().at(1.5), test::to_rounding(std::log(belief.at(1.5)), 4));
  CHECK_THROWS_AS(Belief::of_mean(-1.0, 1.0, 6.0).logarithm(), std::logic_error);
}
