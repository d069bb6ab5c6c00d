// SPDX-License-Identifier: Apache-2.0
/// \file censored.h
/// Mean and scatter when some bars only give a bound: maximum likelihood.
#pragma once

#include "core/result.h"
#include "ranking/bar.h"
#include "ranking/interval.h"

#include <vector>

namespace swingloss {

/// One value that is known, or known to lie above or below a limit.
struct CensoredValue {
  double value = 0.0;
  Limit limit = Limit::None;
};

/// How the bars of one group are taken to scatter.
enum class Scatter {
  Normal,     ///< location = mean, scale = standard deviation, unit of the values
  LogNormal,  ///< of ln(value): exp(location) is the median, scale the relative scatter
};

/// The most likely location and scale. Uncertainties from the curvature of the likelihood.
struct CensoredFit {
  Scatter scatter = Scatter::Normal;
  double location = 0.0;
  double scale = 0.0;           ///< maximum-likelihood: divisor n, not n - 1
  double log_likelihood = 0.0;  ///< density of the values themselves, in their unit
  double u_location = 0.0;      ///< standard error
  double u_log_scale = 0.0;     ///< standard error of ln(scale)
  double covariance = 0.0;      ///< of location and ln(scale)
  int n = 0, n_exact = 0;

  /// Mean of the fitted distribution, in the unit of the values.
  [[nodiscard]] double mean() const;
};

/// Maximum-likelihood fit with left- and right-censored values.
///
///   ln L = sum_exact ln(phi(z)/scale) + sum_above ln Phi(-z) + sum_below ln Phi(z)
///
/// solved by Newton's method in (location/scale, 1/scale), where ln L is concave [Olsen1978],
/// so that any start leads to the one maximum. Agrees with R's survreg
/// (tests/ranking/censored_test.cc).
///
/// Not for: deciding on a mean when most bars did not break; the answer then leans on the
/// assumed form of the scatter.
/// \return the fit, or Failure:
///   "no-two-values" fewer than two different exact values: nothing fixes the scatter;
///   "not-positive"  LogNormal with a value that is not above zero
Result<CensoredFit> fit_censored(const std::vector<CensoredValue>& values, Scatter scatter);

/// Largest ln L for a given location, over all scales. For values all of which are only
/// bounds the largest is approached but not reached; that limit is returned.
/// \throws std::logic_error LogNormal with a value not above zero; exact values that all equal
///         `location` (no maximum exists)
[[nodiscard]] double profile_log_likelihood(const std::vector<CensoredValue>& values,
                                            Scatter scatter,
                                            double location);

/// Locations whose profile ln L is within `drop` of the maximum: half the chi-squared point
/// for the textbook interval, or small_sample_drop().
[[nodiscard]] Interval profile_interval(const std::vector<CensoredValue>& values,
                                        const CensoredFit& fit,
                                        double drop);

/// Half of chi-squared's point for one degree of freedom: 1.92 for 95 %.
[[nodiscard]] double textbook_drop(double confidence);

/// The drop that makes the interval the exact t interval when no value is censored:
///
///   n/2 ln(1 + t^2 / (n - 1)),   t the two-sided point for n - 1 degrees of freedom
///
/// The textbook drop holds for many bars only; for five it covers 90 % instead of 95 %.
/// Coverage with censoring: tests/ranking/censored_test.cc and tests/bench/ranking_coverage.cc.
/// \param n  number of values, censored ones included, >= 2
[[nodiscard]] double small_sample_drop(int n, double confidence);

/// Several groups that share one scale.
struct CommonScaleFit {
  std::vector<double> locations;  ///< one a group
  double scale = 0.0;
  double log_likelihood = 0.0;
};

/// Maximum likelihood with a location a group and one scale for all, as R's survreg with a
/// factor does.
/// \param groups  each with at least one exact value
/// \return the fit, or Failure "no-two-values" (no group has two different exact values),
///         "not-positive"
Result<CommonScaleFit> fit_common_scale(const std::vector<std::vector<CensoredValue>>& groups,
                                        Scatter scatter);

}  // namespace swingloss
