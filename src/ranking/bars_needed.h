// SPDX-License-Identifier: Apache-2.0
/// \file bars_needed.h
/// How many bars show a difference.
#pragma once

#include <map>
#include <optional>

namespace swingloss {

/// Chance that a two-sided t test of two groups of `n` bars each finds a difference of
/// `difference_in_s` standard deviations, both tails counted [Cohen1988 2.2]:
///
///   P(|T| > t), T noncentral t with 2 n - 2 degrees of freedom and d sqrt(n/2)
///
/// Agrees with R's power.t.test(strict = TRUE) (tests/ranking/bars_needed_test.cc). `n` need
/// not be whole, >= 1.01.
[[nodiscard]] double two_group_power(double n, double difference_in_s, double alpha);

/// Bars a group for a wanted power, not rounded; power.t.test's `n`.
/// \param power  above alpha and below 1
[[nodiscard]] double bars_for_power(double difference_in_s, double alpha, double power);

/// The same for many pairs at one level, fast: remembers the noncentrality each n needs.
class BarsNeeded {
 public:
  /// \param alpha  level at which the pair must be significant, \param power  wanted chance
  BarsNeeded(double alpha, double power) : alpha_(alpha), power_(power) {}

  /// Smallest whole n, 2 or more, at which a true difference would be found, its doubt being
  /// scatter between bars and a shared part that no number of bars makes smaller:
  /// difference / sqrt(2 s^2 / n + shared_variance) reaches the noncentrality that n needs.
  /// \return nothing when more than kMost bars would be needed, or no number is enough
  [[nodiscard]] std::optional<int> smallest(double difference,
                                            double s,
                                            double shared_variance = 0.0);

  static constexpr int kMost = 1000;

 private:
  double noncentrality(int n);
  double alpha_, power_;
  std::map<int, double> noncentrality_;
};

}  // namespace swingloss
