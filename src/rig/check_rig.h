// SPDX-License-Identifier: Apache-2.0
/// \file check_rig.h
/// The rig against what the standards ask.
#pragma once

#include "rig/rig.h"

#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// Pass and Fail leave no room for doubt: the value with 2 u to either side is within, or
/// beyond, the limit. Unsure: the limit lies inside that. NotJudged: shown for its own sake.
enum class CheckVerdict { Pass, Fail, Unsure, NotJudged };

/// "pass", "fail", "unsure", "not judged".
[[nodiscard]] const char* name_of(CheckVerdict verdict);

/// One line of the table.
struct RigCheck {
  std::string id;                     ///< kebab-case, stable: "impact-speed"
  std::string what;                   ///< "impact speed"
  std::optional<Uncertain> measured;  ///< in `unit`; absent: not known, the note says why
  std::string unit;                   ///< "m/s", "%", "J", "m"
  std::optional<double> low, high;    ///< limits in `unit`; absent: open on that side
  std::string source;                 ///< of the limit
  CheckVerdict verdict = CheckVerdict::NotJudged;
  std::string note;  ///< what it means, what can be done
};

struct RigCheckOptions {
  /// Release angle; nothing: the rig's own latch.
  std::optional<Uncertain> release_angle_rad;
};

/// Impact speed, percussion length against striking radius, friction, energy against the stated
/// capacity, window of use, doubt of the moment, centre of mass. A rig that names no standard
/// is compared with ISO 13802's Charpy machines, and the notes say so.
[[nodiscard]] std::vector<RigCheck> check_rig(const Rig& rig,
                                              const RigCheckOptions& options = {});

}  // namespace swingloss
