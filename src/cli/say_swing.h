// SPDX-License-Identifier: Apache-2.0
/// \file say_swing.h
/// One measured swing in words, for a terminal.
#pragma once

#include "series/swing_record.h"

#include <string>

namespace swingloss {

/// A short account: outcome, angles, energy, friction, speed, the speed-drop check, remarks.
/// What was not measured says so and why.
/// \param rig_given  whether energies could be expected
[[nodiscard]] std::string account_of(const SwingRecord& record, bool rig_given);

/// "  - warning: text" for each remark.
[[nodiscard]] std::string account_of(const Remarks& remarks);

}  // namespace swingloss
