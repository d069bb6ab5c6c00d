// SPDX-License-Identifier: Apache-2.0
#include "ranking/holm.h"

#include "core/expects.h"

#include <algorithm>
#include <numeric>

namespace swingloss {

std::vector<double> holm_adjusted(const std::vector<double>& p_values) {
  std::vector<std::size_t> order(p_values.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return p_values[a] < p_values[b];
  });
  std::vector<double> adjusted(p_values.size());
  double largest = 0.0;
  double remaining = static_cast<double>(p_values.size());
  for (const std::size_t i : order) {
    expects(p_values[i] >= 0.0 && p_values[i] <= 1.0, "a p value is outside 0 to 1");
    largest = std::max(largest, std::min(1.0, remaining * p_values[i]));
    adjusted[i] = largest;
    remaining -= 1.0;
  }
  return adjusted;
}

}  // namespace swingloss
