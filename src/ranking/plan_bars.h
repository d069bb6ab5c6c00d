// SPDX-License-Identifier: Apache-2.0
/// \file plan_bars.h
/// How many bars to make before making them.
#pragma once

#include <optional>
#include <vector>

namespace swingloss {

/// What is wanted of a comparison of two groups.
struct BarsQuestion {
  double cv = 0.10;  ///< scatter from bar to bar over the mean, > 0
  std::vector<double> differences{
      0.05, 0.10, 0.15, 0.20, 0.30, 0.50};       ///< of the means, relative
  std::vector<double> powers{0.80, 0.90, 0.95};  ///< chance of finding it, alpha < power < 1
  double alpha = 0.05;                           ///< chance of a false alarm, 0 < alpha < 0.5
  int comparisons = 1;  ///< pairs tested together, >= 1; each at alpha / comparisons

  /// \throws InputError naming the first field out of range
  void validate() const;
};

/// Bars a group for one difference, one entry a power.
struct BarsRow {
  double difference = 0.0;               ///< relative
  std::vector<std::optional<int>> bars;  ///< absent: more than BarsNeeded::kMost
};

/// Bars a group by noncentral t, two-sided, equal scatter in both groups [Cohen1988 2.3].
/// Agrees with R's power.t.test rounded up (tests/ranking/plan_bars_test.cc).
/// \throws InputError  the question is out of range
[[nodiscard]] std::vector<BarsRow> plan_bars(const BarsQuestion& question);

/// What a number of bars reaches.
struct PrecisionRow {
  int bars = 0;
  double half_width = 0.0;  ///< of the mean's interval, relative: t cv / sqrt(n)
  /// Relative difference of two such groups that is found with the power; two groups of two
  /// bars find even large ones badly.
  double difference_found = 0.0;
};

/// Precision of groups of 2 to `most` bars.
/// \param most  3 to 1000
/// \throws InputError  the question (its first power counts) or `most` out of range
[[nodiscard]] std::vector<PrecisionRow> plan_precision(const BarsQuestion& question, int most);

/// Smallest number of bars whose interval is no longer than +/- `half_width` (relative).
/// \return nothing when more than BarsNeeded::kMost
[[nodiscard]] std::optional<int> bars_for_half_width(double cv,
                                                     double half_width,
                                                     double confidence);

/// How large the true scatter may well be when `s` was found from `n` bars: its one-sided upper
/// limit, s sqrt((n - 1) / chi2_(1-confidence)). A plan made with the s of a few bars as it
/// stands falls short every second time; at 80 % it does so one time in five.
/// \param n  2 or more
[[nodiscard]] double cautious_scatter(double s, int n, double confidence = 0.80);

}  // namespace swingloss
