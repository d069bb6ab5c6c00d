// SPDX-License-Identifier: Apache-2.0
/// \file belief.h
/// What the bars of one group say of its mean, as a distribution that can be drawn from.
#pragma once

#include "ranking/censored.h"

#include <vector>

namespace swingloss {

/// A mean as a function of a standard normal score: at(0) is the middle, at(-1.96) and
/// at(+1.96) are the ends of the 95 % interval, at(random normal) is a draw.
///
/// Scores beyond +/- 5 (six in ten million draws) are taken as +/- 5.
class Belief {
 public:
  /// mean + u t, t with `degrees_of_freedom`: a plain group's mean with u = s/sqrt(n).
  static Belief of_mean(double mean, double u, double degrees_of_freedom);

  /// From the profile likelihood of the mean of a censored group, made exact for a group
  /// without censoring as small_sample_drop() is.
  static Belief of_censored(const std::vector<CensoredValue>& values, const CensoredFit& fit);

  /// Between `low` and `high` with nothing to prefer any place: for a mean of which only a
  /// bound is known. `below` of the probability lies between `floor` and `low`.
  static Belief of_range(double floor, double low, double high, double below);

  /// offset + factor * this. \param factor  above zero
  [[nodiscard]] Belief scaled(double offset, double factor) const;
  /// Of the logarithm; places that are not above zero are taken as a millionth of the middle.
  /// \throws std::logic_error when the middle is not above zero
  [[nodiscard]] Belief logarithm() const;

  [[nodiscard]] double at(double score) const;
  /// The score at which at() gives `value`; -5 or 5 for values beyond.
  [[nodiscard]] double score_of(double value) const;

 private:
  static constexpr int kPerUnit = 16;
  static constexpr double kReach = 5.0;
  static constexpr int kNodes = 2 * 5 * kPerUnit + 1;
  static double node_score(int node) { return -kReach + static_cast<double>(node) / kPerUnit; }
  std::vector<double> nodes_;  ///< at equally spaced scores, not falling
};

/// p value of equal means, two-sided, each group with its own scatter: chi squared of the
/// smallest sum of the two squared scores over all common means.
///
/// With many bars this is the likelihood ratio itself; with few, each group's own part has been
/// brought to its exact small-sample size first, which keeps false alarms at the stated level
/// (tests/bench/ranking_coverage.cc).
/// \param shrink  1 for groups of one instrument; v / (v + shared variance of the difference)
///                where a doubt between two instruments joins the scatter's variance v
[[nodiscard]] double equal_beliefs_p(const Belief& first,
                                     const Belief& second,
                                     double shrink = 1.0);

/// Differences first - second that the same test does not reject.
[[nodiscard]] Interval belief_difference(const Belief& first,
                                         const Belief& second,
                                         double confidence,
                                         double shrink = 1.0);

/// One-sided p value of first - second > `limit` (small when clearly above).
[[nodiscard]] double belief_above(const Belief& first,
                                  const Belief& second,
                                  double limit,
                                  double shrink = 1.0);

}  // namespace swingloss
