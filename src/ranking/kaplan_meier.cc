// SPDX-License-Identifier: Apache-2.0
#include "ranking/kaplan_meier.h"

#include "core/expects.h"
#include "metrology/distributions.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

/// Where a curve first comes down to one half. A curve that runs along the half itself is read
/// at the middle of that run, as survfit does.
template <typename ShareOfStep>
std::optional<double> reading_at_half(const std::vector<SurvivalStep>& steps,
                                      ShareOfStep share_of) {
  // The product of the shares carries its rounding: a half that is a half but for that counts.
  constexpr double kRounding = 1e-12;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const std::optional<double> share = share_of(steps[i]);
    if (!share || *share > 0.5 + kRounding) continue;
    const bool along = *share > 0.5 - kRounding && i + 1 < steps.size();
    return along ? 0.5 * (steps[i].value + steps[i + 1].value) : steps[i].value;
  }
  return std::nullopt;
}

void set_interval(SurvivalStep& step, double greenwood, double z) {
  if (step.share == 0.0) return;
  const double half = z * std::sqrt(greenwood);
  step.u_share = step.share * std::sqrt(greenwood);
  step.interval = {step.share * std::exp(-half), std::min(1.0, step.share * std::exp(half))};
}

}  // namespace

SurvivalCurve kaplan_meier(const std::vector<CensoredValue>& values, double confidence) {
  std::vector<CensoredValue> sorted = values;
  std::stable_sort(sorted.begin(), sorted.end(), [](const auto& a, const auto& b) {
    return a.value < b.value;
  });
  const double z = normal_quantile(0.5 + confidence / 2.0);
  SurvivalCurve curve;
  double share = 1.0;
  double greenwood = 0.0;
  for (std::size_t i = 0; i < sorted.size();) {
    SurvivalStep step;
    step.value = sorted[i].value;
    step.at_risk = static_cast<int>(sorted.size() - i);
    for (; i < sorted.size() && sorted[i].value == step.value; ++i) {
      expects(sorted[i].limit != Limit::Below, "Kaplan-Meier of a left-censored value");
      step.broken += sorted[i].limit == Limit::None ? 1 : 0;
    }
    if (step.broken == 0) continue;
    const double holding = step.at_risk - step.broken;
    share *= holding / step.at_risk;
    if (holding > 0.0) greenwood += step.broken / (step.at_risk * holding);
    step.share = share;
    set_interval(step, greenwood, z);
    curve.steps.push_back(step);
  }
  curve.median = reading_at_half(curve.steps,
                                 [](const SurvivalStep& s) { return std::optional(s.share); });
  curve.median_interval.low =
      reading_at_half(curve.steps, [](const SurvivalStep& s) { return s.interval.low; });
  curve.median_interval.high =
      reading_at_half(curve.steps, [](const SurvivalStep& s) { return s.interval.high; });
  return curve;
}

}  // namespace swingloss
