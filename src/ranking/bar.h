// SPDX-License-Identifier: Apache-2.0
/// \file bar.h
/// What the statistics need to know of one bar.
#pragma once

#include "core/uncertain.h"

#include <optional>
#include <string>

namespace swingloss {

enum class Limit {
  None,   ///< a plain value
  Above,  ///< did not break, or more than the instrument can show: right-censored
  Below,  ///< less than the instrument can show: left-censored
};

/// Break type by the letters of ISO 179-1 / ISO 180.
enum class BreakType { Complete, Hinge, Partial, NonBreak, Unknown };

/// One bar's result, filmed or typed.
struct Bar {
  std::string id;
  std::string material, condition, orientation;
  std::string rig;  ///< name of the instrument; empty when typed without one
  BreakType break_type = BreakType::Unknown;
  std::optional<Uncertain> energy_J;  ///< absorbed, friction taken off; absent: not measured
  std::optional<Uncertain>
      strength_kJ_m2;  ///< energy per notched section; absent without a section
  Limit limit = Limit::None;
  bool left_out = false;  ///< shown, not counted; `left_out_reason` says why
  std::string left_out_reason;
  bool unsettled = false;  ///< tested before its moisture had settled: counted, and said
};

/// "C", "H", "P", "N" of ISO 179-1 / ISO 180; "" for Unknown.
[[nodiscard]] const char* letter_of(BreakType break_type);

}  // namespace swingloss
