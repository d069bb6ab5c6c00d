// SPDX-License-Identifier: Apache-2.0
#include "ranking/normal_tail.h"

#include "core/angle.h"

#include <cmath>

namespace swingloss {
namespace {

const double kHalfLogTwoPi = 0.5 * std::log(2.0 * kPi);
const double kRootHalf = std::sqrt(0.5);

/// Phi(x) / phi(x) for x <= -10 by Laplace's continued fraction, evaluated from its far end.
double mills_far_down(double x) {
  const double distance = -x;
  double tail = distance;
  for (int k = 40; k >= 1; --k) tail = distance + k / tail;
  return 1.0 / tail;
}

}  // namespace

double log_normal_cdf(double x) {
  if (x < -10.0) return -0.5 * x * x - kHalfLogTwoPi + std::log(mills_far_down(x));
  if (x > 5.0) return std::log1p(-0.5 * std::erfc(x * kRootHalf));
  return std::log(0.5 * std::erfc(-x * kRootHalf));
}

double tail_ratio(double x) {
  if (x < -10.0) return 1.0 / mills_far_down(x);
  return std::exp(-0.5 * x * x - kHalfLogTwoPi) / (0.5 * std::erfc(-x * kRootHalf));
}

}  // namespace swingloss
