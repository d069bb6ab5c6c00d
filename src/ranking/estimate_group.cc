// SPDX-License-Identifier: Apache-2.0
#include "ranking/estimate_group.h"

#include "core/expects.h"
#include "metrology/distributions.h"
#include "ranking/sample.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace swingloss {
namespace {

double value_of(const Bar& bar, Quantity quantity) {
  return quantity_of(bar, quantity)->value();
}

std::vector<double> values_of(const std::vector<Bar>& bars,
                              const std::vector<std::size_t>& members,
                              Quantity quantity) {
  std::vector<double> values;
  for (const std::size_t i : members) {
    if (bars[i].limit == Limit::None) values.push_back(value_of(bars[i], quantity));
  }
  return values;
}

/// Root mean square of the bars' own measurement uncertainties.
double own_u(const std::vector<Bar>& bars,
             const std::vector<std::size_t>& members,
             Quantity quantity) {
  double squares = 0.0;
  for (const std::size_t i : members) {
    const double u = quantity_of(bars[i], quantity)->u(SourceKind::Own);
    squares += u * u;
  }
  return members.empty() ? 0.0 : std::sqrt(squares / static_cast<double>(members.size()));
}

std::vector<CensoredValue> censored_values(const std::vector<Bar>& bars,
                                           const BarGroup& group,
                                           Quantity quantity) {
  std::vector<CensoredValue> values;
  for (const auto& [role, limit] : {std::pair{BarRole::Value, Limit::None},
                                    std::pair{BarRole::Above, Limit::Above},
                                    std::pair{BarRole::Below, Limit::Below}}) {
    for (const std::size_t i : group.bars_of(role)) {
      values.push_back({value_of(bars[i], quantity), limit});
    }
  }
  return values;
}

void fill_break_classes(const std::vector<Bar>& bars,
                        Quantity quantity,
                        double confidence,
                        GroupSummary& summary) {
  for (BreakClass& entry : summary.break_classes) {
    if (bars[entry.bars.front()].break_type == BreakType::NonBreak) continue;
    const std::vector<double> values = values_of(bars, entry.bars, quantity);
    if (values.empty()) continue;
    const Sample sample = summarise(values);
    entry.mean = sample.mean;
    entry.s = sample.s;
    entry.interval = t_interval(sample, confidence);
  }
}

Remark remark(const char* code, Severity severity, std::string text) {
  return {code, severity, std::move(text)};
}

/// Plain values only: the t way.
void estimate_sample(const std::vector<double>& values,
                     double measuring_u,
                     double confidence,
                     GroupEstimate& estimate,
                     GroupSummary& summary) {
  Sample sample = summarise(values);
  summary.mean = sample.mean;
  summary.s = sample.s;
  if (!sample.s) {
    estimate.method = MeanMethod::OneBar;
    estimate.estimate = EstimatedMean{sample.mean, 0.0, 0.0};
    return;
  }
  if (*sample.s == 0.0 && measuring_u == 0.0) {
    estimate.method = MeanMethod::NoScatter;
    estimate.estimate = EstimatedMean{sample.mean, 0.0, 0.0};
    return;
  }
  estimate.method = MeanMethod::Sample;
  if (*sample.s < measuring_u) {
    sample.s = measuring_u;
    summary.remarks.push_back(
        remark("scatter-below-measurement",
               Severity::Note,
               "The bars scatter less than each of them is measured; the interval uses the "
               "uncertainty of measuring one bar in place of the scatter."));
  }
  estimate.scatter = sample.s;
  estimate.estimate = EstimatedMean{sample.mean, sample.mean_variance(), sample.n - 1.0};
  summary.interval = t_interval(sample, confidence);
}

/// Variance of a likelihood mean as a t needs it: the divisor n of the likelihood made n - 1.
EstimatedMean estimate_of(const CensoredFit& fit) {
  const double n = fit.n;
  return {fit.location, fit.u_location * fit.u_location * n / (n - 1.0), n - 1.0};
}

void add_log_normal(const GroupEstimate& estimate, double confidence, GroupSummary& summary) {
  const Result<CensoredFit> result = fit_censored(estimate.values, Scatter::LogNormal);
  if (!result.ok()) return;
  const CensoredFit& fit = result.value();
  const Interval location =
      profile_interval(estimate.values, fit, small_sample_drop(fit.n, confidence));
  summary.log_normal = LogNormalView{
      std::exp(fit.location), fit.mean(), {std::exp(*location.low), std::exp(*location.high)}};
}

void estimate_likelihood(const CensoredFit& fit,
                         double confidence,
                         GroupEstimate& estimate,
                         GroupSummary& summary) {
  estimate.method = MeanMethod::Likelihood;
  estimate.fit = fit;
  estimate.estimate = estimate_of(fit);
  estimate.scatter = fit.scale * std::sqrt(fit.n / (fit.n - 1.0));
  summary.mean = fit.location;
  summary.s = estimate.scatter;
  summary.interval =
      profile_interval(estimate.values, fit, small_sample_drop(fit.n, confidence));
  add_log_normal(estimate, confidence, summary);
}

/// Too few plain values for a mean: what can be said of the median by counting.
void estimate_bound(double confidence, GroupEstimate& estimate, GroupSummary& summary) {
  int above = 0;
  int below = 0;
  for (const CensoredValue& value : estimate.values) {
    above += value.limit == Limit::Above ? 1 : 0;
    below += value.limit == Limit::Below ? 1 : 0;
  }
  const bool lower = above >= below;
  std::vector<double> reaches;
  for (const CensoredValue& value : estimate.values) {
    const bool known =
        value.limit == Limit::None || value.limit == (lower ? Limit::Above : Limit::Below);
    const double sign = lower ? 1.0 : -1.0;
    reaches.push_back(known ? sign * value.value : -std::numeric_limits<double>::infinity());
  }
  const MedianBound found = lower_median_bound(reaches, confidence);
  if (!std::isfinite(found.bound)) return;
  estimate.method = lower ? MeanMethod::LowerBound : MeanMethod::UpperBound;
  estimate.bound = lower ? found.bound : -found.bound;
  estimate.bound_confidence = found.confidence;
  summary.bound = estimate.bound;
  summary.bound_confidence = found.confidence;
  if (found.confidence < confidence) return;
  (lower ? summary.interval.low : summary.interval.high) = estimate.bound;
}

void estimate_values(const std::vector<double>& plain,
                     double measuring_u,
                     double confidence,
                     GroupEstimate& estimate,
                     GroupSummary& summary) {
  if (plain.size() == estimate.values.size()) {
    estimate_sample(plain, measuring_u, confidence, estimate, summary);
    return;
  }
  const Result<CensoredFit> fit = fit_censored(estimate.values, Scatter::Normal);
  if (fit.ok()) {
    estimate_likelihood(fit.value(), confidence, estimate, summary);
  } else {
    estimate_bound(confidence, estimate, summary);
  }
}

void add_views(const std::vector<double>& plain,
               double confidence,
               const GroupEstimate& estimate,
               GroupSummary& summary) {
  summary.grubbs = grubbs_test(plain);
  summary.normal_scores = normal_scores(plain);
  if (summary.n_above > 0 && summary.n_below == 0) {
    summary.survival = kaplan_meier(estimate.values, confidence);
  }
  if (summary.s && summary.mean && *summary.mean > 0.0) summary.cv = *summary.s / *summary.mean;
}

}  // namespace

const char* name_of(MeanMethod method) {
  switch (method) {
    case MeanMethod::None:
      return "no value";
    case MeanMethod::Sample:
      return "mean";
    case MeanMethod::OneBar:
      return "one bar";
    case MeanMethod::NoScatter:
      return "identical values";
    case MeanMethod::Likelihood:
      return "maximum likelihood";
    case MeanMethod::LowerBound:
      return "lower bound";
    case MeanMethod::UpperBound:
      return "upper bound";
  }
  return "no value";
}

MedianBound lower_median_bound(std::vector<double> at_least, double confidence) {
  expects(!at_least.empty(), "a median bound of no bars");
  std::sort(at_least.begin(), at_least.end());
  const double n = static_cast<double>(at_least.size());
  // P(fewer than k of n bars lie below the median), k = 1: none does.
  double term = std::pow(0.5, n);
  double fewer_than_k = term;
  MedianBound best{at_least.front(), 1.0 - fewer_than_k};
  for (std::size_t k = 2; k <= at_least.size(); ++k) {
    const double i = static_cast<double>(k) - 1.0;
    term *= (n - i + 1.0) / i;
    fewer_than_k += term;
    if (1.0 - fewer_than_k < confidence) break;
    best = {at_least[k - 1], 1.0 - fewer_than_k};
  }
  return best;
}

GroupEstimate estimate_group(const std::vector<Bar>& bars,
                             Quantity quantity,
                             double confidence,
                             BarGroup& group) {
  GroupSummary& summary = group.summary;
  GroupEstimate estimate;
  estimate.values = censored_values(bars, group, quantity);
  const std::vector<double> plain = values_of(bars, summary.exact_bars, quantity);
  if (!estimate.values.empty()) {
    estimate_values(
        plain, own_u(bars, summary.exact_bars, quantity), confidence, estimate, summary);
  }
  summary.method = estimate.method;
  add_views(plain, confidence, estimate, summary);
  fill_break_classes(bars, quantity, confidence, summary);
  return estimate;
}

}  // namespace swingloss
