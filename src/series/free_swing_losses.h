// SPDX-License-Identifier: Apache-2.0
/// \file free_swing_losses.h
/// What bearing and air take from the arm, from clips of swings without a bar.
#pragma once

#include "series/swing_record.h"
#include "swing/pendulum.h"

#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// Losses of a rig from its free swings, and what was odd about those that were left out.
struct FreeSwingLosses {
  std::optional<FrictionModel> friction;  ///< absent: no swing showed it
  Remarks remarks;                        ///< "free-swing-unused", one for each left out
};

/// Takes together every record whose track shows a free decay (swing/fit_decay.h).
[[nodiscard]] FreeSwingLosses losses_of(const std::vector<SwingRecord>& free_swings,
                                        const Pendulum& pendulum);

/// The warning that a clip could not be used for the friction.
[[nodiscard]] Remark free_swing_unused(const std::string& clip, const std::string& cause);

}  // namespace swingloss
