// SPDX-License-Identifier: Apache-2.0
#include "ranking/estimate_group.h"

#include "bars.h"
#include "metrology/distributions.h"
#include "ranking/sample.h"
#include "support/test.h"

#include <algorithm>
#include <cmath>

using namespace swingloss;
using test::add_bars;

namespace {

/// The one group of some bars, estimated.
GroupEstimate estimated(const std::vector<Bar>& bars) {
  std::vector<BarGroup> groups = group_bars(bars, Quantity::Energy_J, {});
  REQUIRE(groups.size() == 1);
  return estimate_group(bars, Quantity::Energy_J, 0.95, groups.front());
}

GroupEstimate plain(const std::vector<double>& values) {
  std::vector<Bar> bars;
  add_bars(bars, {"Korvel"}, values);
  return estimated(bars);
}

}  // namespace

TEST_CASE("the median's lower bound is that of the sign test", "[truth]") {
  // One-sided confidence of the k-th smallest of n as a bound of the median: 1 - P(B < k), B
  // binomial(n, 1/2). Tables of the sign test: n = 5, k = 1: 0.9688; n = 8, k = 2: 0.9648;
  // n = 10, k = 2: 0.9893; n = 15, k = 4: 0.9824 (P(B <= 3) = 0.0176).
  struct Row {
    int n, k;
    double confidence;
  };
  for (const Row& row : {Row{5, 1, 0.9688}, {8, 2, 0.9648}, {10, 2, 0.9893}, {15, 4, 0.9824}}) {
    CAPTURE(row.n);
    std::vector<double> values;
    for (int i = row.n; i >= 1; --i) values.push_back(i);
    const MedianBound bound = lower_median_bound(values, 0.95);
    CHECK(bound.bound == row.k);
    CHECK_THAT(bound.confidence, test::to_printed_decimals(row.confidence, 4));
  }
}

TEST_CASE("the variance of a likelihood mean goes over into s^2/n") {
  // A limit far below all values says nothing: the likelihood is that of the four others, whose
  // mean has the variance (sum of squares / 4) / 4; the correction counts five bars, 5/4.
  std::vector<Bar> bars;
  add_bars(bars, {"Korvel"}, {2.1, 2.3, 2.0, 2.25});
  add_bars(bars, test::unbroken({"Korvel"}), {-100.0});
  const GroupEstimate group = estimated(bars);
  const Sample four = summarise({2.1, 2.3, 2.0, 2.25});
  const double squares = *four.s * *four.s * 3.0;
  // Newton's rest is far below 1e-9 of these.
  CHECK_THAT(group.estimate->mean, test::to_truncation(four.mean, 1e-9));
  CHECK_THAT(group.estimate->variance, test::to_truncation(squares / 16.0 * 1.25, 1e-9));
  CHECK(group.estimate->degrees_of_freedom == 4.0);
}

TEST_CASE("variance and belief of a censored group agree near the middle") {
  std::vector<Bar> bars;
  add_bars(bars, {"Korvel"}, {2.1, 2.3, 2.0, 2.25, 2.4, 1.9, 2.2});
  add_bars(bars, test::unbroken({"Korvel"}), {2.35});
  std::vector<GroupEstimate> groups{estimated(bars)};
  form_beliefs(groups);
  // Half the distance of the two places one score out, over Student's t there (7 degrees of
  // freedom, 84.1 %): the curvature's u, but for the skewness of the profile, below a tenth.
  const double half = 0.5 * (groups[0].belief->at(1.0) - groups[0].belief->at(-1.0));
  const double u = half / student_quantile(normal_cdf(1.0), 7.0);
  CHECK_THAT(std::sqrt(groups[0].estimate->variance), test::to_truncation(u, 0.1 * u));
}

TEST_CASE("borrowed scatter is the pooled relative scatter, weighted by degrees of freedom") {
  std::vector<GroupEstimate> groups{plain({9.0, 11.0}),
                                    plain({20.0, 20.5, 19.5, 20.0, 20.0}),
                                    plain({40.0}),
                                    plain({3.0, 3.0})};
  lend_scatter(groups);
  // Relative variances: 2/100 with 1 and 0.125/400 with 4 degrees of freedom.
  const double relative = std::sqrt((0.02 * 1.0 + 0.125 / 400.0 * 4.0) / 5.0);
  CHECK(groups[2].borrowed_scatter);
  CHECK_THAT(*groups[2].scatter, test::to_rounding(40.0 * relative, 32));
  CHECK_THAT(groups[2].estimate->variance, test::to_rounding(1600.0 * relative * relative, 32));
  CHECK(groups[2].estimate->degrees_of_freedom == 5.0);
  CHECK_THAT(groups[3].estimate->variance,
             test::to_rounding(9.0 * relative * relative / 2.0, 32));
  CHECK_FALSE(groups[0].borrowed_scatter);
}

TEST_CASE("a bound against a group with scatter is tested by survreg's likelihood ratio") {
  // The statistic from the fits themselves (checked against R in censored_test.cc), its p from
  // the t that makes the same ratio in a plain group of four: t^2 = 3 (exp(ratio/4) - 1).
  std::vector<Bar> bars;
  add_bars(bars, {"Korvel"}, {3.0, 3.4, 3.2, 3.6});
  add_bars(bars, test::unbroken({"Veltan"}), {3.9, 3.9, 3.9});
  std::vector<CensoredValue> known;
  for (const double v : {3.0, 3.4, 3.2, 3.6}) known.push_back({v, Limit::None});
  std::vector<CensoredValue> all = known;
  all.insert(all.end(), 3, {3.9, Limit::Above});
  const double ratio = 2.0 * (fit_censored(known, Scatter::LogNormal).value().log_likelihood -
                              fit_censored(all, Scatter::LogNormal).value().log_likelihood);
  const double t = std::sqrt(3.0 * (std::exp(ratio / 4.0) - 1.0));
  // The same fits; the values are read in another order.
  CHECK_THAT(*rank_bars(bars).comparisons.front().p_value,
             test::to_truncation(2.0 * student_upper_tail(t, 3.0), 1e-9));
}
