// SPDX-License-Identifier: Apache-2.0
#include "metrology/random_draws.h"

#include "core/expects.h"

#include <cmath>

namespace swingloss {

double RandomDraws::uniform() {
  return (static_cast<double>(bits_() >> 12U) + 0.5) * 0x1.0p-52;
}

double RandomDraws::normal() {
  if (second_normal_) {
    const double z = *second_normal_;
    second_normal_.reset();
    return z;
  }
  for (;;) {
    const double x = 2.0 * uniform() - 1.0;
    const double y = 2.0 * uniform() - 1.0;
    const double square = x * x + y * y;
    if (square >= 1.0 || square == 0.0) continue;
    const double factor = std::sqrt(-2.0 * std::log(square) / square);
    second_normal_ = y * factor;
    return x * factor;
  }
}

double RandomDraws::chi_squared(double degrees_of_freedom) {
  expects(degrees_of_freedom > 0.0 && std::isfinite(degrees_of_freedom),
          "degrees of freedom must be positive and finite");
  const double shape = degrees_of_freedom / 2.0;
  // A shape below 1 is reached from the next higher one by a power of a uniform draw.
  const double lift = shape < 1.0 ? std::pow(uniform(), 1.0 / shape) : 1.0;
  const double d = (shape < 1.0 ? shape + 1.0 : shape) - 1.0 / 3.0;
  const double c = 1.0 / std::sqrt(9.0 * d);
  for (;;) {
    const double z = normal();
    const double v = std::pow(1.0 + c * z, 3);
    if (v <= 0.0) continue;
    if (std::log(uniform()) < 0.5 * z * z + d - d * v + d * std::log(v)) {
      return 2.0 * d * v * lift;
    }
  }
}

double RandomDraws::student(double degrees_of_freedom) {
  const double z = normal();
  if (std::isinf(degrees_of_freedom)) return z;
  return z / std::sqrt(chi_squared(degrees_of_freedom) / degrees_of_freedom);
}

}  // namespace swingloss
