// SPDX-License-Identifier: Apache-2.0
/// \file source_words.h
/// Sources of doubt by the names that people give them.
#pragma once

#include <string>

namespace swingloss {

/// "rig.mass:bench" is "mass of arm and hammer", "view.look-7" "look of the arm as it turns": a
/// number in brackets or after a hyphen and everything from a colon on (bar or rig) are left
/// out. A source without words keeps its own name, thus shortened.
[[nodiscard]] std::string source_words(const std::string& source);

}  // namespace swingloss
