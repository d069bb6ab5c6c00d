// SPDX-License-Identifier: Apache-2.0
/// \file conclude.h
/// From what was measured and typed of a bar to what the statistics take.
#pragma once

#include "series/series_result.h"

#include <string>

namespace swingloss {

/// What a bar's conclusion needs beside its own data.
struct ConcludeOptions {
  double section_u_mm = 0.02;  ///< standard uncertainty of thickness and of width
  std::string rig_name;        ///< of a filmed bar
  /// Set apart the rigs of a series: appended to the name of every shared source; empty where
  /// there is one rig only.
  std::string rig_suffix;
};

/// A bar that was not measured, with its names and the reason.
[[nodiscard]] BarResult conclude_problem(const Specimen& specimen, BarProblem problem);

/// A bar whose energy was typed. Without energy_u_J the energy enters without doubt of its own
/// and a remark says so.
[[nodiscard]] BarResult conclude_typed(const Specimen& specimen,
                                       const ConcludeOptions& options);

/// A filmed bar: the clip's energy, over the typed section
///
///   strength = 1000 W / (h b_N)      kJ/m2 from J and mm        [ISO179-1]
///
/// Sources of the bar alone get its id appended, so that two bars never share one by name. A
/// typed break letter wins over the clip's outcome; a typed energy beside a clip is compared
/// and not used; both are remarked. No energy, or a clip without a blow, is a problem.
[[nodiscard]] BarResult conclude_filmed(const Specimen& specimen,
                                        SwingRecord record,
                                        const ConcludeOptions& options);

}  // namespace swingloss
