// SPDX-License-Identifier: Apache-2.0
#include "ranking/compare_pair.h"

#include "metrology/distributions.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace swingloss {
namespace {

bool positive_means(const Pair& pair) {
  return pair.first.estimate->mean > 0.0 && pair.second.estimate->mean > 0.0;
}

CombinedVariance shared_in_log_ratio(const Pair& pair) {
  return pair.shared.of_log_ratio(pair.result.first,
                                  pair.result.second,
                                  pair.first.estimate->mean,
                                  pair.second.estimate->mean);
}

double relative_variance(const EstimatedMean& mean) {
  return mean.variance / (mean.mean * mean.mean);
}

/// What the shared sources add to the variance of a difference.
struct SharedDoubts {
  CombinedVariance size;   ///< of the difference itself: for its interval
  CombinedVariance order;  ///< of what could turn the order round: for the p value
};

/// Both groups have plain values.
void compare_plain(const Pair& pair, const SharedDoubts& extra) {
  const EstimatedMean& first = *pair.first.estimate;
  const EstimatedMean& second = *pair.second.estimate;
  if (first.variance + second.variance == 0.0) return;
  const double confidence = pair.options.confidence;
  Comparison& result = pair.result;
  result.p_value = welch_test(first, second, confidence, extra.order).p_value;
  result.difference_interval = welch_test(first, second, confidence, extra.size).interval;
  const bool borrowed = pair.first.borrowed_scatter || pair.second.borrowed_scatter;
  result.method = borrowed ? "Welch t, scatter borrowed from the other groups" : "Welch t";
  const SharedCovariance common = pair.shared.covariance(result.first, result.second);
  if (const auto ratio = fieller_ratio(first, second, confidence, common)) {
    result.ratio_interval = ratio->interval;
  }
  const auto equivalence =
      equivalence_test(first, second, pair.options.equivalence_margin, common);
  if (equivalence && !borrowed) result.p_equivalent = equivalence->p_value;
}

/// One group at least is censored; both have a mean.
void compare_censored(const Pair& pair, const SharedDoubts& extra) {
  const double confidence = pair.options.confidence;
  const Belief& first = *pair.first.belief;
  const Belief& second = *pair.second.belief;
  const double variance = pair.first.estimate->variance + pair.second.estimate->variance;
  const auto share = [&](const CombinedVariance& shared) {
    return variance / (variance + shared.variance);
  };
  Comparison& result = pair.result;
  result.p_value = equal_beliefs_p(first, second, share(extra.order));
  result.difference_interval = belief_difference(first, second, confidence, share(extra.size));
  result.method = "likelihood ratio";
  if (!positive_means(pair)) return;

  const double relative =
      relative_variance(*pair.first.estimate) + relative_variance(*pair.second.estimate);
  const double shrink = relative / (relative + shared_in_log_ratio(pair).variance);
  const Belief log_first = first.logarithm();
  const Belief log_second = second.logarithm();
  const Interval log_ratio = belief_difference(log_first, log_second, confidence, shrink);
  if (log_ratio.low) result.ratio_interval.low = std::exp(*log_ratio.low);
  if (log_ratio.high) result.ratio_interval.high = std::exp(*log_ratio.high);
  const double margin = std::log1p(pair.options.equivalence_margin);
  result.p_equivalent = std::max(belief_above(log_first, log_second, -margin, shrink),
                                 belief_above(log_second, log_first, -margin, shrink));
}

std::vector<CensoredValue> merged(const GroupEstimate& a, const GroupEstimate& b) {
  std::vector<CensoredValue> all = a.values;
  all.insert(all.end(), b.values.begin(), b.values.end());
  return all;
}

bool has_exact(const GroupEstimate& group) {
  return std::any_of(group.values.begin(), group.values.end(), [](const CensoredValue& v) {
    return v.limit == Limit::None;
  });
}

/// What the instruments of a bound and of a mean do not share, relative where `relative`.
double shared_with_bound(const Pair& pair,
                         const GroupEstimate& bound,
                         const GroupEstimate& known,
                         bool relative) {
  const std::size_t a = pair.result.first;
  const std::size_t b = pair.result.second;
  if (!relative) return pair.shared.of_difference(a, b).variance;
  const bool first_bound = &bound == &pair.first;
  const double first = first_bound ? *bound.bound : known.estimate->mean;
  const double second = first_bound ? known.estimate->mean : *bound.bound;
  return pair.shared.of_log_ratio(a, b, first, second).variance;
}

/// One group is a bound, the other has a scatter that serves both.
void compare_with_bound(const Pair& pair) {
  const bool first_bound = is_bound(pair.first);
  const GroupEstimate& bound = first_bound ? pair.first : pair.second;
  const GroupEstimate& known = first_bound ? pair.second : pair.first;
  // A lower bound below the other mean, or an upper one above it, tells no order.
  const bool tells =
      bound.method == (first_bound ? MeanMethod::LowerBound : MeanMethod::UpperBound);
  if (!tells || known.borrowed_scatter) return;

  const std::vector<CensoredValue> all = merged(bound, known);
  const bool positive =
      std::all_of(all.begin(), all.end(), [](const CensoredValue& v) { return v.value > 0.0; });
  const Scatter scatter = positive ? Scatter::LogNormal : Scatter::Normal;
  std::vector<std::vector<CensoredValue>> apart{known.values};
  if (has_exact(bound)) apart.push_back(bound.values);
  const auto apart_fit = fit_common_scale(apart, scatter);
  const auto one_fit = fit_common_scale({all}, scatter);
  if (!apart_fit.ok() || !one_fit.ok()) return;

  const double n = known.n();
  const double scale = apart_fit.value().scale;
  const double variance = scale * scale / n;
  const double shared_variance = shared_with_bound(pair, bound, known, positive);
  const double ratio =
      2.0 * std::max(0.0, apart_fit.value().log_likelihood - one_fit.value().log_likelihood) *
      variance / (variance + shared_variance);
  const double t = std::sqrt((n - 1.0) * std::expm1(ratio / n));
  pair.result.p_value = 2.0 * student_upper_tail(t, n - 1.0);
  pair.result.method = positive ? "likelihood ratio, common relative scatter"
                                : "likelihood ratio, common scatter";
}

/// Neither group has a mean: only whether all bars of one lie above all of the other.
void compare_bounds(const Pair& pair) {
  if (pair.first.method != MeanMethod::LowerBound) return;
  if (pair.second.method != MeanMethod::UpperBound) return;
  double lowest = std::numeric_limits<double>::infinity();
  double highest = -lowest;
  for (const CensoredValue& v : pair.first.values) {
    lowest = v.limit == Limit::Below ? -std::numeric_limits<double>::infinity()
                                     : std::min(lowest, v.value);
  }
  for (const CensoredValue& v : pair.second.values) {
    highest = v.limit == Limit::Above ? std::numeric_limits<double>::infinity()
                                      : std::max(highest, v.value);
  }
  if (lowest < highest) return;
  double orders = 1.0;
  for (int k = 1; k <= pair.first.n(); ++k)
    orders *= (pair.second.n() + k) / static_cast<double>(k);
  pair.result.p_value = std::min(1.0, 2.0 / orders);
  pair.result.method = "exact rank test";
}

/// The least by which a lower bound exceeds the other mean: the chance that the bound fails and
/// the chance that the other mean is higher than supposed together make up what is left of the
/// confidence.
void fill_bound_intervals(const Pair& pair) {
  if (pair.first.method != MeanMethod::LowerBound || !pair.second.estimate) return;
  const double left = pair.first.bound_confidence - pair.options.confidence;
  const EstimatedMean& second = *pair.second.estimate;
  if (left <= 0.0 || second.variance <= 0.0) return;
  const double high = second.mean + std::sqrt(second.variance) *
                                        student_quantile(1.0 - left, second.degrees_of_freedom);
  pair.result.difference_interval.low = *pair.first.bound - high;
  if (high > 0.0) pair.result.ratio_interval.low = *pair.first.bound / high;
}

/// Where no likelihood can be formed: the chance that the bound fails and the chance that the
/// other mean lies beyond it, added.
void compare_by_bound_alone(const Pair& pair) {
  const bool first_bound = is_bound(pair.first);
  const GroupEstimate& bound = first_bound ? pair.first : pair.second;
  const EstimatedMean& mean = *(first_bound ? pair.second : pair.first).estimate;
  const bool tells =
      bound.method == (first_bound ? MeanMethod::LowerBound : MeanMethod::UpperBound);
  if (!tells || mean.variance <= 0.0) return;
  const double shared =
      pair.shared.of_difference(pair.result.first, pair.result.second).variance;
  const double distance = (first_bound ? 1.0 : -1.0) * (*bound.bound - mean.mean);
  const double t = distance / std::sqrt(mean.variance + shared);
  const double chance =
      1.0 - bound.bound_confidence + student_upper_tail(t, mean.degrees_of_freedom);
  pair.result.p_value = std::min(1.0, 2.0 * chance);
  pair.result.method = "bound against mean";
}

}  // namespace

bool is_bound(const GroupEstimate& group) {
  return group.method == MeanMethod::LowerBound || group.method == MeanMethod::UpperBound;
}

void compare_pair(const Pair& pair) {
  Comparison& result = pair.result;
  SharedDoubts extra;
  extra.size = pair.shared.of_difference(result.first, result.second);
  result.u_shared = std::sqrt(extra.size.variance);
  const bool bound = is_bound(pair.first) || is_bound(pair.second);
  if (is_bound(pair.first) && is_bound(pair.second)) {
    compare_bounds(pair);
  } else if (bound && (pair.first.estimate || pair.second.estimate)) {
    compare_with_bound(pair);
    if (!result.p_value) compare_by_bound_alone(pair);
    fill_bound_intervals(pair);
  }
  if (!pair.first.estimate || !pair.second.estimate) return;
  result.difference = pair.first.estimate->mean - pair.second.estimate->mean;
  if (pair.second.estimate->mean != 0.0) {
    result.ratio = pair.first.estimate->mean / pair.second.estimate->mean;
  }
  extra.order = pair.shared.of_order(
      result.first, result.second, pair.first.estimate->mean, pair.second.estimate->mean);
  const bool censored = pair.first.method == MeanMethod::Likelihood ||
                        pair.second.method == MeanMethod::Likelihood;
  if (censored) {
    compare_censored(pair, extra);
  } else {
    compare_plain(pair, extra);
  }
}

}  // namespace swingloss
