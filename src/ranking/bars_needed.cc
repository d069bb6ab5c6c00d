// SPDX-License-Identifier: Apache-2.0
#include "ranking/bars_needed.h"

#include "core/expects.h"
#include "metrology/distributions.h"

#include <cmath>

namespace swingloss {
namespace {

double power_at(double noncentrality, double degrees_of_freedom, double critical) {
  return noncentral_t_upper_tail(critical, degrees_of_freedom, noncentrality) +
         noncentral_t_cdf(-critical, degrees_of_freedom, noncentrality);
}

/// Where a rising function reaches `wanted`, between two ends that enclose it.
template <typename Function>
double crossing(Function rising, double wanted, double low, double high) {
  for (int halving = 0; halving < 200 && high - low > 1e-12 * high; ++halving) {
    const double middle = 0.5 * (low + high);
    (rising(middle) < wanted ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

}  // namespace

double two_group_power(double n, double difference_in_s, double alpha) {
  expects(n >= 1.01 && alpha > 0.0 && alpha < 1.0, "power out of range");
  const double degrees_of_freedom = 2.0 * n - 2.0;
  const double critical = student_quantile(1.0 - alpha / 2.0, degrees_of_freedom);
  return power_at(std::abs(difference_in_s) * std::sqrt(n / 2.0), degrees_of_freedom, critical);
}

double bars_for_power(double difference_in_s, double alpha, double power) {
  expects(difference_in_s != 0.0 && power > alpha && power < 1.0, "bars for power: range");
  const auto reached = [&](double n) { return two_group_power(n, difference_in_s, alpha); };
  double high = 4.0;
  while (reached(high) < power) high *= 2.0;
  return crossing(reached, power, 1.01, high);
}

double BarsNeeded::noncentrality(int n) {
  const auto known = noncentrality_.find(n);
  if (known != noncentrality_.end()) return known->second;
  const double degrees_of_freedom = 2.0 * n - 2.0;
  const double critical = student_quantile(1.0 - alpha_ / 2.0, degrees_of_freedom);
  double found = critical + student_quantile(power_, degrees_of_freedom);
  // Start: the shifted t; the noncentral one differs by its skewness, which a few secant steps
  // on the power take out.
  const auto lack = [&](double ncp) {
    return normal_quantile(power_at(ncp, degrees_of_freedom, critical)) -
           normal_quantile(power_);
  };
  double previous = found * 0.98;
  double previous_lack = lack(previous);
  for (int step = 0; step < 20; ++step) {
    const double here = lack(found);
    if (std::abs(here) < 1e-7 || here == previous_lack) break;
    const double next = found - here * (found - previous) / (here - previous_lack);
    previous = found;
    previous_lack = here;
    found = next;
  }
  noncentrality_[n] = found;
  return found;
}

std::optional<int> BarsNeeded::smallest(double difference, double s, double shared_variance) {
  const auto enough = [&](int n) {
    const double u = std::sqrt(2.0 * s * s / n + shared_variance);
    return std::abs(difference) >= noncentrality(n) * u;
  };
  if (!(s > 0.0) || !enough(kMost)) return std::nullopt;
  int low = 1;
  int high = kMost;
  while (high - low > 1) {
    const int middle = (low + high) / 2;
    (enough(middle) ? high : low) = middle;
  }
  return high;
}

}  // namespace swingloss
