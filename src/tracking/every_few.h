// SPDX-License-Identifier: Apache-2.0
/// \file every_few.h
/// Some of many, evenly spread. Internal to tracking.
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

namespace swingloss {

/// Up to `most` of the indices below `count`, evenly spread, ascending; all where they are no
/// more.
[[nodiscard]] inline std::vector<std::size_t> every_few(std::size_t count, std::size_t most) {
  std::vector<std::size_t> out;
  const std::size_t kept = std::min(count, most);
  out.reserve(kept);
  for (std::size_t i = 0; i < kept; ++i) out.push_back(i * count / kept);
  return out;
}

}  // namespace swingloss
