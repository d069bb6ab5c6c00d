// SPDX-License-Identifier: Apache-2.0
/// \file estimate_group.h
/// From the values of one group to its mean, scatter and what may be compared with others.
#pragma once

#include "ranking/belief.h"
#include "ranking/group_bars.h"

#include <optional>
#include <vector>

namespace swingloss {

/// A group's mean in the form that comparisons and simulations need.
struct GroupEstimate {
  MeanMethod method = MeanMethod::None;
  std::vector<CensoredValue> values;      ///< counted bars: plain values first, then bounds
  std::optional<EstimatedMean> estimate;  ///< with its own or with borrowed scatter
  std::optional<double> scatter;          ///< from bar to bar; own or borrowed
  bool borrowed_scatter = false;
  std::optional<CensoredFit> fit;  ///< Likelihood
  std::optional<double> bound;     ///< LowerBound, UpperBound
  double bound_confidence = 0.0;   ///< one-sided
  std::optional<Belief> belief;    ///< of the mean, or of the median behind a bound

  [[nodiscard]] int n() const { return static_cast<int>(values.size()); }
};

/// The bound of the median that a sample of lower bounds gives, by counting alone: with n bars
/// the chance that all lie above the median is 1/2^n, whatever the form of the scatter.
struct MedianBound {
  double bound = 0.0;
  double confidence = 0.0;
};

/// The highest of `at_least` below which the median lies with probability of at most
/// 1 - confidence; the lowest of them, with the confidence it reaches, when there are too few.
/// \param at_least  what each bar is known to reach; not empty
[[nodiscard]] MedianBound lower_median_bound(std::vector<double> at_least, double confidence);

/// Estimates a group, and fills method, mean, s, cv, interval, bound, log_normal, survival,
/// grubbs, normal_scores and the means of the break classes in its summary.
///
/// Where the bars scatter less than each is measured, the measurement's own uncertainty takes
/// the place of the scatter: five equal readings of a coarse scale are not five exact ones.
[[nodiscard]] GroupEstimate estimate_group(const std::vector<Bar>& bars,
                                           Quantity quantity,
                                           double confidence,
                                           BarGroup& group);

/// Gives groups of one bar, or without scatter, the relative scatter of the other groups
/// (pooled, weighted by degrees of freedom), so that they can be placed in the ranking at all.
/// Groups stay without an estimate when no group has a scatter.
void lend_scatter(std::vector<GroupEstimate>& estimates);

/// Fills the beliefs of all groups that have an estimate or a bound.
///
/// A bound says nothing of how far beyond it the median lies: it is spread evenly from a lower
/// bound to twice the largest value or bound of all groups, or from an upper bound to zero,
/// with the chance that the bound fails spread to half, or to one and a half, of the bound.
void form_beliefs(std::vector<GroupEstimate>& estimates);

}  // namespace swingloss
