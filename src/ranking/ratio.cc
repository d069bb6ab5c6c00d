// SPDX-License-Identifier: Apache-2.0
#include "ranking/ratio.h"

#include "core/expects.h"
#include "metrology/distributions.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace swingloss {
namespace {

double shared_degrees_of_freedom(const SharedCovariance& shared) {
  return shared.degrees_of_freedom > 0.0 ? shared.degrees_of_freedom
                                         : std::numeric_limits<double>::infinity();
}

/// Variance of first - r second.
CombinedVariance contrast_variance(const EstimatedMean& first,
                                   const EstimatedMean& second,
                                   double r,
                                   const SharedCovariance& shared) {
  const double common = shared.first - 2.0 * r * shared.between + r * r * shared.second;
  return combine_variances({{first.variance, first.degrees_of_freedom},
                            {r * r * second.variance, second.degrees_of_freedom},
                            {std::max(0.0, common), shared_degrees_of_freedom(shared)}});
}

/// One-sided p value of first - r second > 0 (sign 1) or < 0 (sign -1).
double one_sided_p(const EstimatedMean& first,
                   const EstimatedMean& second,
                   double r,
                   double sign,
                   const SharedCovariance& shared) {
  const CombinedVariance spread = contrast_variance(first, second, r, shared);
  const double t = sign * (first.mean - r * second.mean) / std::sqrt(spread.variance);
  return student_upper_tail(t, spread.degrees_of_freedom);
}

}  // namespace

std::optional<Ratio> fieller_ratio(const EstimatedMean& first,
                                   const EstimatedMean& second,
                                   double confidence,
                                   const SharedCovariance& shared) {
  if (second.mean == 0.0) return std::nullopt;
  Ratio ratio;
  ratio.value = first.mean / second.mean;
  const CombinedVariance spread = contrast_variance(first, second, ratio.value, shared);
  ratio.degrees_of_freedom = spread.degrees_of_freedom;
  if (spread.variance == 0.0) return ratio;

  // (m1 - r m2)^2 = t^2 (v11 - 2 r v12 + r^2 v22) is a quadratic a r^2 - 2 b r + c = 0.
  const double t = student_quantile(0.5 + confidence / 2.0, spread.degrees_of_freedom);
  const double v11 = first.variance + shared.first;
  const double v22 = second.variance + shared.second;
  const double a = second.mean * second.mean - t * t * v22;
  const double b = first.mean * second.mean - t * t * shared.between;
  const double c = first.mean * first.mean - t * t * v11;
  if (a <= 0.0) return ratio;
  const double root = std::sqrt(std::max(0.0, b * b - a * c));
  ratio.interval = {(b - root) / a, (b + root) / a};
  return ratio;
}

std::optional<EquivalenceTest> equivalence_test(const EstimatedMean& first,
                                                const EstimatedMean& second,
                                                double margin,
                                                const SharedCovariance& shared) {
  expects(margin > 0.0, "an equivalence margin must be above zero");
  if (first.mean <= 0.0 || second.mean <= 0.0) return std::nullopt;
  if (first.variance + second.variance == 0.0) return std::nullopt;
  const double factor = 1.0 + margin;
  return EquivalenceTest{std::max(one_sided_p(first, second, 1.0 / factor, 1.0, shared),
                                  one_sided_p(first, second, factor, -1.0, shared))};
}

}  // namespace swingloss
