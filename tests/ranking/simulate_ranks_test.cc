// SPDX-License-Identifier: Apache-2.0
#include "ranking/simulate_ranks.h"

#include "metrology/distributions.h"
#include "ranking/normal_draw.h"
#include "support/test.h"

#include <algorithm>
#include <cmath>
#include <limits>

using namespace swingloss;

namespace {

const double kInfinite = std::numeric_limits<double>::infinity();

SharedSources no_sources(int groups) {
  SharedSources shared;
  shared.contributions.resize(groups, 0);
  return shared;
}

SharedSources one_source(const std::vector<double>& contributions) {
  SharedSources shared;
  shared.names = {"rig.moment"};
  shared.degrees_of_freedom = {kInfinite};
  shared.contributions.resize(static_cast<Eigen::Index>(contributions.size()), 1);
  for (std::size_t g = 0; g < contributions.size(); ++g) {
    shared.contributions(static_cast<Eigen::Index>(g), 0) = contributions[g];
  }
  return shared;
}

}  // namespace

TEST_CASE("NormalDraw has the normal's distribution function and moments") {
  NormalDraw normal(3);
  const int n = 400000;
  double sum = 0.0;
  double squares = 0.0;
  double fourth = 0.0;
  std::vector<double> draws;
  for (int i = 0; i < n; ++i) {
    const double z = normal();
    draws.push_back(z);
    sum += z;
    squares += z * z;
    fourth += z * z * z * z;
  }
  CHECK_THAT(sum / n, test::to_uncertainty(0.0, 1.0 / std::sqrt(n)));
  CHECK_THAT(squares / n, test::to_uncertainty(1.0, std::sqrt(2.0 / n)));
  CHECK_THAT(fourth / n, test::to_uncertainty(3.0, std::sqrt(96.0 / n)));
  std::sort(draws.begin(), draws.end());
  double farthest = 0.0;
  for (int i = 0; i < n; ++i) {
    const double gap = normal_cdf(draws[static_cast<std::size_t>(i)]) - (i + 0.5) / n;
    farthest = std::max(farthest, std::abs(gap));
  }
  // Kolmogorov's 0.1 % point 1.95/sqrt(n) holds for a perfect generator; the table adds 3e-5.
  CHECK(farthest < 1.95 / std::sqrt(n) + 3e-5);
}

TEST_CASE("two groups swap as often as the normal law says") {
  // P(second beats first) = Phi(-d / sqrt(u1^2 + u2^2)) = Phi(-1) for 0.5 and 0.3, 0.4.
  const std::vector<Belief> beliefs{Belief::of_mean(10.5, 0.3, kInfinite),
                                    Belief::of_mean(10.0, 0.4, kInfinite)};
  const auto chances = simulate_ranks(beliefs, no_sources(2), {0.95, 100000, 1});
  const double p = normal_cdf(1.0);
  CHECK_THAT(chances[0].probability[0],
             test::to_uncertainty(p, std::sqrt(p * (1.0 - p) / 100000.0)));
  // Chances over the ranks add up to one: counts over draws, exactly but for one division each.
  CHECK_THAT(chances[0].probability[0] + chances[0].probability[1], test::to_rounding(1.0, 2));
}

TEST_CASE("what two groups share does not turn their order round") {
  const std::vector<Belief> beliefs{Belief::of_mean(10.5, 0.1, kInfinite),
                                    Belief::of_mean(10.0, 0.1, kInfinite)};
  // One rig: both move by 0.5 together. Two rigs: the first alone moves.
  const auto same = simulate_ranks(beliefs, one_source({0.5, 0.5}), {0.95, 20000, 2});
  const auto other = simulate_ranks(beliefs, one_source({0.5, 0.0}), {0.95, 20000, 2});
  const double p_same = normal_cdf(0.5 / std::sqrt(0.02));
  const double p_other = normal_cdf(0.5 / std::sqrt(0.27));
  CHECK_THAT(same[0].probability[0],
             test::to_uncertainty(p_same, std::sqrt(p_same * (1.0 - p_same) / 20000.0)));
  CHECK_THAT(other[0].probability[0],
             test::to_uncertainty(p_other, std::sqrt(p_other * (1.0 - p_other) / 20000.0)));
}

TEST_CASE("equal groups share all ranks evenly, in either sorting") {
  const std::vector<Belief> beliefs(4, Belief::of_mean(10.0, 0.5, 4.0));
  const auto chances = simulate_ranks(beliefs, no_sources(4), {0.95, 40000, 3});
  const double u = std::sqrt(0.25 * 0.75 / 40000.0);
  for (const RankChances& group : chances) {
    for (const double p : group.probability) CHECK_THAT(p, test::to_uncertainty(0.25, u));
    CHECK(group.low == 1);
    CHECK(group.high == 4);
  }
}

TEST_CASE("a heavy-tailed group is best more often than its mean suggests") {
  // Two bars (t with 1 degree of freedom) against a sure group one u below:
  // P(t > -1) = 3/4 for the Cauchy law.
  const std::vector<Belief> beliefs{Belief::of_mean(1.0, 1.0, 1.0),
                                    Belief::of_mean(0.0, 0.0, kInfinite)};
  const auto chances = simulate_ranks(beliefs, no_sources(2), {0.95, 100000, 4});
  CHECK_THAT(chances[0].probability[0],
             test::to_uncertainty(0.75, std::sqrt(0.75 * 0.25 / 100000.0)));
}

TEST_CASE("one seed gives one answer, another seed another") {
  const std::vector<Belief> beliefs{Belief::of_mean(10.2, 0.3, 4.0),
                                    Belief::of_mean(10.0, 0.4, 4.0)};
  const auto a = simulate_ranks(beliefs, no_sources(2), {0.95, 5000, 9});
  const auto b = simulate_ranks(beliefs, no_sources(2), {0.95, 5000, 9});
  const auto c = simulate_ranks(beliefs, no_sources(2), {0.95, 5000, 10});
  CHECK(a[0].probability == b[0].probability);
  CHECK(a[0].probability != c[0].probability);
}

TEST_CASE("rank_interval holds the middle of the chances") {
  CHECK(rank_interval({0.96, 0.04}, 0.90) == std::pair(1, 1));
  CHECK(rank_interval({0.9, 0.1}, 0.90) == std::pair(1, 2));
  CHECK(rank_interval({0.02, 0.5, 0.46, 0.02}, 0.95) == std::pair(2, 3));
  CHECK(rank_interval({1.0}, 0.95) == std::pair(1, 1));
}
