// SPDX-License-Identifier: Apache-2.0
/// \file say_decay.h
/// A free decay in words, for a terminal.
#pragma once

#include "series/swing_record.h"

#include <string>

namespace swingloss {

/// Stretch, zero, reduced length, which loss terms the data support, residuals.
[[nodiscard]] std::string account_of(const DecayRecord& record);

}  // namespace swingloss
