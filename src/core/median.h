// SPDX-License-Identifier: Apache-2.0
/// \file median.h
/// The middle value.
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

namespace swingloss {

/// Median; of an even count the upper one of the two in the middle, of none 0. Pass a temporary
/// or std::move() where the order of the values is no longer needed.
template <typename Value>
[[nodiscard]] Value median_of(std::vector<Value> values) {
  if (values.empty()) return Value{};
  const auto middle =
      values.begin() +
      static_cast<typename std::vector<Value>::difference_type>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

/// Mean of the middle third of the values, which are put in order: as blind to what is far off
/// as the median, with less noise, and finer where values are whole numbers.
/// \pre not empty
template <typename Value>
[[nodiscard]] double middle_third_mean(std::vector<Value>& values) {
  std::sort(values.begin(), values.end());
  const std::size_t from = values.size() / 3, to = values.size() - from;
  double sum = 0.0;
  for (std::size_t i = from; i < to; ++i) sum += static_cast<double>(values[i]);
  return sum / static_cast<double>(to - from);
}

}  // namespace swingloss
