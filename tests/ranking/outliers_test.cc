// SPDX-License-Identifier: Apache-2.0
#include "ranking/outliers.h"

#include "metrology/random_draws.h"
#include "support/test.h"

using namespace swingloss;

namespace {

// NIST/SEMATECH e-Handbook 1.3.5.17.1, uranium isotope data: G = 2.4687, one-sided 5 % point
// 2.032 (printed values from memory, recomputed).
const std::vector<double> kUranium{
    199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57};

}  // namespace

TEST_CASE("grubbs_test agrees with the NIST handbook's example", "[truth]") {
  const auto test = grubbs_test(kUranium);
  REQUIRE(test.has_value());
  CHECK(test->farthest == 7);
  CHECK(test->flagged);
  CHECK_THAT(test->g, test::to_printed_digits(2.4687, 4));
  CHECK_THAT(grubbs_critical(8, 0.05, false), test::to_printed_digits(2.032, 4));
}

TEST_CASE("grubbs_critical gives the published table", "[truth]") {
  // Grubbs' 5 % points, n = 3 to 20 [Grubbs1969]; common tables print three decimals, memory
  // agrees; more digits by SciPy 1.10.
  const std::vector<double> two_sided{1.1543,
                                      1.4812,
                                      1.7150,
                                      1.8871,
                                      2.0200,
                                      2.1266,
                                      2.2150,
                                      2.2900,
                                      2.3547,
                                      2.4116,
                                      2.4620,
                                      2.5073,
                                      2.5483,
                                      2.5857,
                                      2.6200,
                                      2.6516,
                                      2.6809,
                                      2.7082};
  const std::vector<double> one_sided{1.1531,
                                      1.4625,
                                      1.6714,
                                      1.8221,
                                      1.9381,
                                      2.0317,
                                      2.1096,
                                      2.1761,
                                      2.2339,
                                      2.2850,
                                      2.3305,
                                      2.3717,
                                      2.4090,
                                      2.4433,
                                      2.4748,
                                      2.5040,
                                      2.5312,
                                      2.5566};
  for (int n = 3; n <= 20; ++n) {
    CAPTURE(n);
    const auto i = static_cast<std::size_t>(n - 3);
    CHECK_THAT(grubbs_critical(n, 0.05), test::to_printed_decimals(two_sided[i], 4));
    CHECK_THAT(grubbs_critical(n, 0.05, false), test::to_printed_decimals(one_sided[i], 4));
  }
}

TEST_CASE("flags keep to their rate of false alarms") {
  // Normal samples of 5, 10 and 20: 5 of 100 are to be flagged. 4000 samples leave a
  // deviation of sqrt(0.05 * 0.95 / 4000) = 0.0034; the published approximation of the
  // normal-scores point is given to about half a per cent of samples.
  RandomDraws draws(11);
  const int samples = 4000;
  for (const int n : {5, 10, 20}) {
    CAPTURE(n);
    int grubbs = 0;
    int scores = 0;
    for (int trial = 0; trial < samples; ++trial) {
      std::vector<double> values(static_cast<std::size_t>(n));
      for (double& value : values) value = draws.normal();
      grubbs += grubbs_test(values)->flagged ? 1 : 0;
      scores += normal_scores(values)->flagged ? 1 : 0;
    }
    CHECK_THAT(grubbs / static_cast<double>(samples), test::to_uncertainty(0.05, 0.0034));
    CHECK_THAT(scores / static_cast<double>(samples),
               test::to_truncation(0.05, 4.0 * 0.0034 + 0.005));
  }
}

TEST_CASE("normal_scores are symmetric, rising and straight for normal quantiles") {
  const auto scores = normal_scores({3.0, 1.0, 2.0, 5.0, 4.0});
  REQUIRE(scores.has_value());
  CHECK(scores->points.front().index == 1);
  CHECK(scores->points[2].score == 0.0);
  CHECK(scores->points.front().score == -scores->points.back().score);
  std::vector<double> straight;
  for (const NormalScore& point : scores->points) straight.push_back(10.0 + 2.0 * point.score);
  // A line's correlation is 1 but for the rounding of the sums.
  CHECK_THAT(normal_scores(straight)->correlation, test::to_rounding(1.0, 8));
  CHECK(normal_scores(kUranium)->flagged);
}

TEST_CASE("no flag without enough bars or without scatter") {
  CHECK_FALSE(grubbs_test({1.0, 2.0}).has_value());
  CHECK_FALSE(grubbs_test({2.0, 2.0, 2.0}).has_value());
  CHECK_FALSE(normal_scores({1.0, 2.0, 3.0}).has_value());
  CHECK_FALSE(normal_scores({2.0, 2.0, 2.0, 2.0}).has_value());
}
