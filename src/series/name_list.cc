// SPDX-License-Identifier: Apache-2.0
#include "series/name_list.h"

namespace swingloss {

std::string name_list(const std::vector<std::string>& names) {
  constexpr std::size_t kMost = 8;
  const std::size_t told = names.size() > kMost ? kMost - 1 : names.size();
  std::string text;
  for (std::size_t i = 0; i < told; ++i) {
    const bool last = i > 0 && i + 1 == names.size();
    text += (i == 0 ? "" : last ? " and " : ", ") + names[i];
  }
  const std::size_t left = names.size() - told;
  return left == 0 ? text : text + " and " + std::to_string(left) + " others";
}

}  // namespace swingloss
