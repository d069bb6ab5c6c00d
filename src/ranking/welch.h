// SPDX-License-Identifier: Apache-2.0
/// \file welch.h
/// Comparing means whose scatters differ.
#pragma once

#include "ranking/interval.h"

#include <vector>

namespace swingloss {

/// A mean with the variance of that mean and the degrees of freedom with which the variance is
/// known: s^2/n and n - 1 for a plain group.
struct EstimatedMean {
  double mean = 0.0;
  double variance = 0.0;            ///< >= 0, square of the unit of `mean`
  double degrees_of_freedom = 0.0;  ///< > 0; infinity where the variance is known
};

/// A sum of independent estimates' variances.
struct CombinedVariance {
  double variance = 0.0;
  double degrees_of_freedom =
      0.0;  ///< Welch-Satterthwaite [JCGM100 G.4.1]; infinity for zero variance
};

/// Sum and effective degrees of freedom, (sum v)^2 / sum(v^2 / nu).
[[nodiscard]] CombinedVariance combine_variances(
    const std::vector<std::pair<double, double>>& variance_and_degrees_of_freedom);

/// Two means against one another.
struct WelchTest {
  double difference = 0.0;  ///< first - second
  double t = 0.0;
  double degrees_of_freedom = 0.0;
  double p_value = 1.0;  ///< two-sided
  Interval interval;     ///< of the difference
};

/// Welch's test of equal means [Welch1947], with an extra variance of the difference that is
/// not scatter: the shared sources that do not cancel between two instruments.
///
/// Agrees with R's t.test where `extra` is zero (tests/ranking/welch_test.cc).
/// \param extra  variance of the difference from shared sources, with its degrees of freedom
/// \throws std::logic_error when the difference has no variance at all: the test is undefined
[[nodiscard]] WelchTest welch_test(const EstimatedMean& first,
                                   const EstimatedMean& second,
                                   double confidence,
                                   const CombinedVariance& extra = {});

/// All means at once.
struct WelchAnova {
  double f = 0.0;
  double degrees_of_freedom_1 = 0.0, degrees_of_freedom_2 = 0.0;
  double p_value = 1.0;
};

/// Whether several means can be one, without taking their scatters for equal [Welch1951].
/// Works for any independent estimates, so that the effects of a condition in several
/// materials can be compared with it as well as groups of bars.
/// \param estimates  at least two, each with variance > 0
[[nodiscard]] WelchAnova welch_anova(const std::vector<EstimatedMean>& estimates);

/// The classical table for groups that are taken to scatter alike.
struct OneWayAnova {
  double between_squares = 0.0, within_squares = 0.0;
  double between_degrees_of_freedom = 0.0, within_degrees_of_freedom = 0.0;
  double f = 0.0;
  double p_value = 1.0;
  double residual_s = 0.0;  ///< root of the pooled variance within groups
};

/// One-way analysis of variance. Used for the pooled scatter, not for verdicts.
/// \param groups  at least two, none empty, more values than groups, some scatter within
[[nodiscard]] OneWayAnova one_way_anova(const std::vector<std::vector<double>>& groups);

}  // namespace swingloss
