// SPDX-License-Identifier: Apache-2.0
#include "ranking/censored.h"

#include "core/expects.h"
#include "metrology/distributions.h"
#include "ranking/censored_likelihood.h"

#include <algorithm>
#include <cmath>

#include <Eigen/LU>

namespace swingloss {
namespace {

const char* const kMeasureMore =
    "Break more bars, or let the largest hammer at hand break those that did not.";

Failure no_two_values() {
  return {"no-two-values",
          "fewer than two different values are known exactly; the scatter is not known",
          kMeasureMore};
}

Failure not_positive() {
  return {"not-positive",
          "a value is not above zero, and the lognormal form needs logarithms",
          "Use the normal form."};
}

/// Where the profile has fallen by `drop`, going from the fit in the direction of `step`.
double profile_end(const CensoredSet& set, const CensoredFit& fit, double drop, double step) {
  const double wanted = fit.log_likelihood - drop;
  double inside = fit.location;
  double outside = fit.location + step;
  while (maximise_scale(set, outside) > wanted) {
    inside = outside;
    step *= 2.0;
    outside += step;
  }
  // Halving: the profile of few values has a kink-free but flat far side on which faster
  // methods gain little; 60 halvings reach rounding.
  for (int halving = 0; halving < 60; ++halving) {
    const double middle = 0.5 * (inside + outside);
    (maximise_scale(set, middle) > wanted ? inside : outside) = middle;
  }
  return 0.5 * (inside + outside);
}

}  // namespace

double CensoredFit::mean() const {
  return scatter == Scatter::Normal ? location : std::exp(location + 0.5 * scale * scale);
}

Result<CensoredFit> fit_censored(const std::vector<CensoredValue>& values, Scatter scatter) {
  if (scatter == Scatter::LogNormal && !all_positive(values)) return not_positive();
  const CensoredSet set = sort_by_limit(values, scatter);
  if (!has_scatter(set)) return no_two_values();
  const CommonScaleFit best = maximise({set});
  CensoredFit fit;
  fit.scatter = scatter;
  fit.location = best.locations.front();
  fit.scale = best.scale;
  fit.log_likelihood = best.log_likelihood;
  const Eigen::Matrix2d covariance =
      observed_information(set, fit.location, fit.scale).inverse();
  fit.u_location = std::sqrt(covariance(0, 0));
  fit.u_log_scale = std::sqrt(covariance(1, 1));
  fit.covariance = covariance(0, 1);
  fit.n = set.size();
  fit.n_exact = static_cast<int>(set.exact.size());
  return fit;
}

double profile_log_likelihood(const std::vector<CensoredValue>& values,
                              Scatter scatter,
                              double location) {
  return maximise_scale(sort_by_limit(values, scatter), location);
}

Interval profile_interval(const std::vector<CensoredValue>& values,
                          const CensoredFit& fit,
                          double drop) {
  expects(drop > 0.0, "a profile interval needs a drop above zero");
  const CensoredSet set = sort_by_limit(values, fit.scatter);
  return {profile_end(set, fit, drop, -fit.u_location),
          profile_end(set, fit, drop, fit.u_location)};
}

double textbook_drop(double confidence) {
  const double z = normal_quantile(0.5 + confidence / 2.0);
  return 0.5 * z * z;
}

double small_sample_drop(int n, double confidence) {
  expects(n >= 2, "a small-sample interval of fewer than two values");
  const double degrees_of_freedom = n - 1.0;
  const double t = student_quantile(0.5 + confidence / 2.0, degrees_of_freedom);
  return 0.5 * n * std::log1p(t * t / degrees_of_freedom);
}

Result<CommonScaleFit> fit_common_scale(const std::vector<std::vector<CensoredValue>>& groups,
                                        Scatter scatter) {
  std::vector<CensoredSet> sets;
  bool scatter_seen = false;
  for (const std::vector<CensoredValue>& group : groups) {
    if (scatter == Scatter::LogNormal && !all_positive(group)) return not_positive();
    sets.push_back(sort_by_limit(group, scatter));
    scatter_seen = scatter_seen || has_scatter(sets.back());
  }
  if (!scatter_seen) return no_two_values();
  return maximise(sets);
}

}  // namespace swingloss
