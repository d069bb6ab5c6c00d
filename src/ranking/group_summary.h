// SPDX-License-Identifier: Apache-2.0
/// \file group_summary.h
/// What the bars of one group say together.
#pragma once

#include "core/remark.h"
#include "ranking/bar.h"
#include "ranking/budget.h"
#include "ranking/interval.h"
#include "ranking/kaplan_meier.h"
#include "ranking/outliers.h"

#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// How the mean of a group was come by.
enum class MeanMethod {
  None,        ///< no bar with a value
  Sample,      ///< plain mean of two or more values
  OneBar,      ///< one value: it has no scatter of its own
  NoScatter,   ///< two or more values, all the same: rounded or copied
  Likelihood,  ///< most likely mean with the censored bars counted as bounds
  LowerBound,  ///< too few bars broke: only "above"
  UpperBound,  ///< too few bars rose over what the instrument shows: only "below"
};

/// "mean", "one bar", "maximum likelihood", ..., as the report says it.
[[nodiscard]] const char* name_of(MeanMethod method);

/// Bars whose values may be averaged together by ISO 179-1 / ISO 180: complete and hinge breaks
/// share a mean, partial breaks have their own, bars that did not break have no value.
struct BreakClass {
  std::string name;               ///< "C", "C+H", "P", "N", "type not given", ...
  std::vector<std::size_t> bars;  ///< indices into the bars given, input order
  std::optional<double> mean, s;  ///< of the plain values; absent for N
  Interval interval;              ///< t interval of `mean`
  bool in_group_mean = false;     ///< these bars are counted in the group's mean
};

/// The same censored bars with their scatter taken as lognormal, to see how much the form
/// matters.
struct LogNormalView {
  double median = 0.0, mean = 0.0;
  Interval median_interval;
};

/// One group: material x condition x orientation, in the ranked quantity's unit.
///
/// Intervals of means are cut at 0 as the last step, for every page and file alike: neither an
/// energy nor a strength lies below it. Comparisons, ranks and `interval_with_shared` come from
/// the mean and its variance, uncut.
struct GroupSummary {
  std::string name;  ///< "Korvel / annealed / flat"
  std::string material, condition, orientation;
  BreakType main_break_type = BreakType::Unknown;  ///< the most frequent among the bars counted
  std::vector<BreakClass> break_classes;  ///< shown apart; one entry when all are of one kind
  bool pooled_break_types = false;  ///< partial breaks are in the mean because it was asked for
  std::vector<std::size_t> bars;    ///< indices into the bars given, input order
  int n_exact = 0, n_above = 0, n_below = 0;  ///< counted in the mean
  int n_left_out = 0, n_no_value = 0;         ///< listed, not counted
  int n_apart = 0;                            ///< of another break class than the mean's
  MeanMethod method = MeanMethod::None;
  std::optional<double> mean;               ///< censored: maximum-likelihood estimate
  std::optional<double> s;                  ///< sample standard deviation, or its estimate
  std::optional<double> cv;                 ///< s / mean
  Interval interval;                        ///< of the mean, scatter between bars
  Interval interval_with_shared;            ///< the same with the shared part joined
  double u_shared = 0.0;                    ///< shared part, not in `interval`
  std::optional<double> bound;              ///< LowerBound, UpperBound: of the median bar
  double bound_confidence = 0.0;            ///< that the median lies beyond `bound`
  std::optional<LogNormalView> log_normal;  ///< Likelihood, when all values are above zero
  std::optional<SurvivalCurve>
      survival;                      ///< when bars are right-censored and none left-censored
  std::optional<GrubbsTest> grubbs;  ///< index into `exact_bars`
  std::optional<NormalScores> normal_scores;  ///< indices into `exact_bars`
  std::vector<std::size_t> exact_bars;        ///< the n_exact bars, indices into the bars given
  std::vector<BudgetPart> budget;  ///< what makes up the uncertainty of the mean, largest first
  std::string letters;             ///< groups that share a letter are not clearly apart
  std::vector<double> rank_probability;  ///< P(rank = r+1), 1 = toughest
  std::optional<double> p_best;
  std::optional<int> rank_low, rank_high;  ///< ranks that hold with the stated confidence
  Remarks remarks;
};

}  // namespace swingloss
