// SPDX-License-Identifier: Apache-2.0
/// \file median.h
/// The middle value.
#pragma once

#include <algorithm>
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

}  // namespace swingloss
