// SPDX-License-Identifier: Apache-2.0
#include "ranking/welch.h"

#include "core/expects.h"
#include "metrology/distributions.h"
#include "ranking/sample.h"

#include <cmath>
#include <limits>

namespace swingloss {

CombinedVariance combine_variances(
    const std::vector<std::pair<double, double>>& variance_and_degrees_of_freedom) {
  CombinedVariance sum{0.0, std::numeric_limits<double>::infinity()};
  double divisor = 0.0;
  for (const auto& [variance, degrees_of_freedom] : variance_and_degrees_of_freedom) {
    expects(variance >= 0.0, "a variance is negative");
    if (variance == 0.0) continue;
    sum.variance += variance;
    divisor += variance * variance / degrees_of_freedom;
  }
  if (divisor > 0.0) sum.degrees_of_freedom = sum.variance * sum.variance / divisor;
  return sum;
}

WelchTest welch_test(const EstimatedMean& first,
                     const EstimatedMean& second,
                     double confidence,
                     const CombinedVariance& extra) {
  const CombinedVariance spread =
      combine_variances({{first.variance, first.degrees_of_freedom},
                         {second.variance, second.degrees_of_freedom},
                         {extra.variance, extra.degrees_of_freedom}});
  expects(spread.variance > 0.0, "Welch's test of a difference without any variance");
  const double u = std::sqrt(spread.variance);
  WelchTest test;
  test.difference = first.mean - second.mean;
  test.t = test.difference / u;
  test.degrees_of_freedom = spread.degrees_of_freedom;
  test.p_value = 2.0 * student_upper_tail(std::abs(test.t), test.degrees_of_freedom);
  const double half = u * student_quantile(0.5 + confidence / 2.0, test.degrees_of_freedom);
  test.interval = {test.difference - half, test.difference + half};
  return test;
}

WelchAnova welch_anova(const std::vector<EstimatedMean>& estimates) {
  const double k = static_cast<double>(estimates.size());
  expects(k >= 2.0, "Welch's analysis of fewer than two means");
  double weights = 0.0;
  double weighted = 0.0;
  for (const EstimatedMean& estimate : estimates) {
    expects(estimate.variance > 0.0, "Welch's analysis of a mean without variance");
    weights += 1.0 / estimate.variance;
    weighted += estimate.mean / estimate.variance;
  }
  const double centre = weighted / weights;
  double between = 0.0;
  double lack = 0.0;
  for (const EstimatedMean& estimate : estimates) {
    const double weight = 1.0 / estimate.variance;
    between += weight * (estimate.mean - centre) * (estimate.mean - centre);
    lack += (1.0 - weight / weights) * (1.0 - weight / weights) / estimate.degrees_of_freedom;
  }
  WelchAnova anova;
  anova.degrees_of_freedom_1 = k - 1.0;
  anova.degrees_of_freedom_2 = (k * k - 1.0) / (3.0 * lack);
  anova.f = between / (k - 1.0) / (1.0 + 2.0 * (k - 2.0) / (k * k - 1.0) * lack);
  anova.p_value = f_upper_tail(anova.f, anova.degrees_of_freedom_1, anova.degrees_of_freedom_2);
  return anova;
}

OneWayAnova one_way_anova(const std::vector<std::vector<double>>& groups) {
  expects(groups.size() >= 2, "analysis of variance of fewer than two groups");
  OneWayAnova anova;
  std::vector<Sample> samples;
  std::vector<double> all;
  for (const std::vector<double>& group : groups) {
    samples.push_back(summarise(group));
    all.insert(all.end(), group.begin(), group.end());
    const Sample& last = samples.back();
    if (last.s) anova.within_squares += *last.s * *last.s * (last.n - 1.0);
  }
  const double grand_mean = summarise(all).mean;
  for (const Sample& sample : samples) {
    anova.between_squares += sample.n * (sample.mean - grand_mean) * (sample.mean - grand_mean);
  }
  anova.between_degrees_of_freedom = static_cast<double>(groups.size()) - 1.0;
  anova.within_degrees_of_freedom = static_cast<double>(all.size() - groups.size());
  expects(anova.within_degrees_of_freedom > 0.0 && anova.within_squares > 0.0,
          "analysis of variance without any scatter within groups");
  const double within = anova.within_squares / anova.within_degrees_of_freedom;
  anova.residual_s = std::sqrt(within);
  anova.f = anova.between_squares / anova.between_degrees_of_freedom / within;
  anova.p_value =
      f_upper_tail(anova.f, anova.between_degrees_of_freedom, anova.within_degrees_of_freedom);
  return anova;
}

}  // namespace swingloss
