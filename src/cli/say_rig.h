// SPDX-License-Identifier: Apache-2.0
/// \file say_rig.h
/// A rig's constants and checks in words, for a terminal.
#pragma once

#include "rig/check_rig.h"

#include <string>
#include <vector>

namespace swingloss {

/// Constants, friction, the table of checks with the note of each, and remarks.
[[nodiscard]] std::string account_of(const Rig& rig, const std::vector<RigCheck>& checks);

}  // namespace swingloss
