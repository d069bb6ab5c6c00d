// SPDX-License-Identifier: Apache-2.0
/// \file free_swing_findings.h
/// What clips of swings without a bar tell of a rig: the loss in bearing and air, and its rate.
#pragma once

#include "rig/rig.h"
#include "series/swing_record.h"
#include "swing/pendulum.h"

#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// What free swings tell, and what was odd about those that were left out.
struct FreeSwingFindings {
  std::optional<FrictionModel> friction;  ///< absent: no swing showed it
  /// By the surest of them (swing/length_by_swing.h). Absent: the rig file knows it as well.
  std::optional<Uncertain> reduced_length_m;
  Remarks remarks;  ///< "free-swing-unused", one for each left out
};

/// Takes together every record whose track shows a free decay (swing/fit_decay.h).
[[nodiscard]] FreeSwingFindings findings_of(const std::vector<SwingRecord>& free_swings,
                                            Pendulum pendulum);

/// The rig with what they tell in the place of what its file says; of another length there is a
/// remark in `rig`, "length-by-free-swing".
void take_in(const FreeSwingFindings& findings, Rig& rig);

/// The warning that a clip could not be used for the friction.
[[nodiscard]] Remark free_swing_unused(const std::string& clip, const std::string& cause);

}  // namespace swingloss
