// SPDX-License-Identifier: Apache-2.0
/// \file manual_page.h
/// swingloss(1).
#pragma once

#include "cli/command_list.h"

#include <string>

namespace swingloss {

/// The manual page in the man macros of troff. Bears no date, so that the same program gives
/// the same page.
[[nodiscard]] std::string manual_page(const CommandList& list, const std::string& version);

}  // namespace swingloss
