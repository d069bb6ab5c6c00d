// SPDX-License-Identifier: Apache-2.0
#include "report/spread.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace swingloss {

double Spread::place(double low, double high) {
  constexpr std::array<double, 5> kSteps = {0.0, 0.6, -0.6, 0.3, -0.3};
  double best = 0.0;
  double least = std::numeric_limits<double>::infinity();
  for (const double step : kSteps) {
    const double overlap = overlap_at(step, low, high);
    if (overlap >= least) continue;
    least = overlap;
    best = step;
  }
  taken_.push_back({low, high, best});
  return best * band_;
}

double Spread::overlap_at(double step, double low, double high) const {
  double overlap = 0.0;
  for (const Taken& other : taken_) {
    const double apart = std::max(other.low - high, low - other.high);
    const double steps = std::abs(other.step - step);
    if (apart < width_ && steps < 0.6)
      overlap += (width_ - std::max(apart, 0.0)) / width_ * (0.7 - steps);
  }
  return overlap;
}

}  // namespace swingloss
