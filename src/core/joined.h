// SPDX-License-Identifier: Apache-2.0
/// \file joined.h
/// Words in a row.
#pragma once

#include <string>
#include <vector>

namespace swingloss {

/// The words with `between` between them; empty words are passed over.
[[nodiscard]] inline std::string joined(const std::vector<std::string>& words,
                                        const std::string& between) {
  std::string text;
  for (const std::string& word : words) {
    if (!word.empty()) text += (text.empty() ? "" : between) + word;
  }
  return text;
}

}  // namespace swingloss
