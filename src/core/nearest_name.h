// SPDX-License-Identifier: Apache-2.0
/// \file nearest_name.h
/// "Did you mean": the known name closest to one that is not known.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// Fewest single-character insertions, removals, replacements and swaps of neighbours that turn
/// one name into the other; capitals and the marks _ - and blank count as alike.
[[nodiscard]] int name_distance(const std::string& a, const std::string& b);

/// The closest of `known`, the earlier one of equals; nothing when none is near enough to be a
/// slip of the hand (more than a third of the characters, and more than 2, differ).
[[nodiscard]] std::optional<std::string> nearest_name(const std::string& name,
                                                      const std::vector<std::string>& known);

}  // namespace swingloss
