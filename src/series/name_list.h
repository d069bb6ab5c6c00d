// SPDX-License-Identifier: Apache-2.0
/// \file name_list.h
/// Several names in a sentence.
#pragma once

#include <string>
#include <vector>

namespace swingloss {

/// "F1", "F1 and F2", "F1, F2 and F3"; of more than eight the first seven "and 12 others".
[[nodiscard]] std::string name_list(const std::vector<std::string>& names);

}  // namespace swingloss
