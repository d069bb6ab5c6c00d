// SPDX-License-Identifier: Apache-2.0
/// \file ratio.h
/// How many times one mean is of another.
#pragma once

#include "ranking/interval.h"
#include "ranking/welch.h"

#include <optional>

namespace swingloss {

/// What two means share: contributions of common sources to each, by source. The correlation
/// of a rig's moment in both makes it cancel in the ratio.
struct SharedCovariance {
  double first = 0.0;               ///< sum of squares of the contributions to the first mean
  double second = 0.0;              ///< the same for the second
  double between = 0.0;             ///< sum of products
  double degrees_of_freedom = 0.0;  ///< of the sources; 0 or infinity: taken as known
};

/// A ratio of means, first / second.
struct Ratio {
  double value = 0.0;
  Interval interval;  ///< no ends when the second mean is not clearly different from zero
  double degrees_of_freedom = 0.0;
};

/// Ratio and Fieller interval [Fieller1954]: the ratios r for which
///
///   |m1 - r m2| <= t u(m1 - r m2),   u^2 = v1 + r^2 v2 + shared part
///
/// with Welch-Satterthwaite degrees of freedom taken at the estimated ratio. Preferred to the
/// delta method on the logarithm, which is too short where the scatter is large against the
/// mean; both agree for a few per cent of scatter (tests/ranking/ratio_test.cc).
/// \return nothing when the second mean is zero
[[nodiscard]] std::optional<Ratio> fieller_ratio(const EstimatedMean& first,
                                                 const EstimatedMean& second,
                                                 double confidence,
                                                 const SharedCovariance& shared = {});

/// Whether two means lie within a factor of one another: two one-sided tests.
struct EquivalenceTest {
  double p_value = 1.0;  ///< the larger of the two one-sided p values
};

/// Tests that first/second lies between 1/(1 + margin) and 1 + margin [Schuirmann1987], each
/// side by Welch's t on m1 - r m2. Significant at alpha when the Fieller interval with
/// confidence 1 - 2 alpha lies inside the margin, but for the degrees of freedom, which each
/// takes at its own ratio (tests/ranking/ratio_test.cc).
/// \param margin  relative, > 0: 0.10 for "within 10 % of each other"
/// \return nothing when a mean is not above zero or neither has any variance
[[nodiscard]] std::optional<EquivalenceTest> equivalence_test(
    const EstimatedMean& first,
    const EstimatedMean& second,
    double margin,
    const SharedCovariance& shared = {});

}  // namespace swingloss
