// SPDX-License-Identifier: Apache-2.0
#include "swing/period_ratio.h"

#include "core/expects.h"

#include <cmath>
#include <limits>

namespace swingloss {

double complete_elliptic_k(double modulus) {
  expects(std::abs(modulus) < 1.0, "an elliptic modulus is not between -1 and 1");
  double arithmetic = 1.0;
  // sqrt((1-k)(1+k)) and not sqrt(1-k^2): the latter cancels near k = 1.
  double geometric = std::sqrt((1.0 - modulus) * (1.0 + modulus));
  // Convergence is quadratic: the gap squares at each step, so stopping at sqrt(eps) leaves a
  // final mean that is good to the last digit.
  while (arithmetic - geometric > std::sqrt(std::numeric_limits<double>::epsilon())) {
    const double mean = 0.5 * (arithmetic + geometric);
    geometric = std::sqrt(arithmetic * geometric);
    arithmetic = mean;
  }
  return kPi / (arithmetic + geometric);
}

double period_ratio(Angle amplitude) {
  expects(std::abs(amplitude.rad()) < kPi, "an amplitude is not between -180 and 180 degrees");
  return 2.0 / kPi * complete_elliptic_k(std::sin(0.5 * amplitude.rad()));
}

double reduced_length_m(double period_s, Angle amplitude, double gravity_m_per_s2) {
  expects(period_s > 0.0 && gravity_m_per_s2 > 0.0, "a period or gravity is not positive");
  const double per_natural_s = period_s / (2.0 * kPi * period_ratio(amplitude));
  return gravity_m_per_s2 * per_natural_s * per_natural_s;
}

}  // namespace swingloss
