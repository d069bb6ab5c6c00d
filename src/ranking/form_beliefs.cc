// SPDX-License-Identifier: Apache-2.0
#include "ranking/estimate_group.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace swingloss {

void lend_scatter(std::vector<GroupEstimate>& estimates) {
  double squares = 0.0;
  double degrees_of_freedom = 0.0;
  for (const GroupEstimate& group : estimates) {
    if (!group.scatter || group.estimate->mean <= 0.0) continue;
    const double relative = *group.scatter / group.estimate->mean;
    const double nu = group.estimate->degrees_of_freedom;
    squares += nu * relative * relative;
    degrees_of_freedom += nu;
  }
  for (GroupEstimate& group : estimates) {
    const bool lacks =
        group.method == MeanMethod::OneBar || group.method == MeanMethod::NoScatter;
    if (!lacks) continue;
    const double mean = group.estimate->mean;
    if (degrees_of_freedom == 0.0 || squares == 0.0 || mean <= 0.0) {
      group.estimate.reset();
      continue;
    }
    group.borrowed_scatter = true;
    group.scatter = mean * std::sqrt(squares / degrees_of_freedom);
    group.estimate =
        EstimatedMean{mean, *group.scatter * *group.scatter / group.n(), degrees_of_freedom};
  }
}

void form_beliefs(std::vector<GroupEstimate>& estimates) {
  double top = 0.0;
  for (const GroupEstimate& group : estimates) {
    if (group.estimate) top = std::max(top, group.estimate->mean);
    if (group.bound) top = std::max(top, *group.bound);
  }
  std::map<double, Belief> standard;  // by degrees of freedom
  for (GroupEstimate& group : estimates) {
    if (group.method == MeanMethod::Likelihood) {
      group.belief = Belief::of_censored(group.values, *group.fit);
    } else if (group.estimate) {
      const EstimatedMean& mean = *group.estimate;
      const double nu = mean.degrees_of_freedom;
      if (standard.count(nu) == 0) standard.emplace(nu, Belief::of_mean(0.0, 1.0, nu));
      group.belief = standard.at(nu).scaled(mean.mean, std::sqrt(mean.variance));
    } else if (group.method == MeanMethod::LowerBound) {
      const double bound = *group.bound;
      group.belief = Belief::of_range(
          std::min(0.5 * bound, bound), bound, 2.0 * top, 1.0 - group.bound_confidence);
    } else if (group.method == MeanMethod::UpperBound) {
      const double bound = *group.bound;
      group.belief = Belief::of_range(
          std::min(0.0, bound), bound, 1.5 * std::max(bound, 0.0), group.bound_confidence);
    }
  }
}

}  // namespace swingloss
