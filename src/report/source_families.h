// SPDX-License-Identifier: Apache-2.0
/// \file source_families.h
/// Sources of doubt as people can take them in: a swing has some sixty, numbered, and few
/// causes.
#pragma once

#include "core/uncertain.h"
#include "ranking/budget.h"

#include <string>
#include <vector>

namespace swingloss {

/// Name of the last family, which holds the small ones.
inline constexpr const char* kSmallOnes = "smaller ones together";

/// All sources of one cause together.
struct SourceFamily {
  std::string name;        ///< in words where the cause has them, else the source's own name
  bool is_shared = false;  ///< touches all bars of a series alike
  double u = 0.0;  ///< root of the sum of squares: sources are independent by definition
};

/// "tracking[3]:F1" and "tracking[4]:F1" are the family "tracking", "view.look-7" belongs to
/// "view.look": a number in brackets or after a hyphen and everything from a colon on (bar or
/// rig) are left out. Largest first, equal ones by name; families below a twentieth of the
/// largest are joined into a last one, "smaller ones together". For pages only: results.json
/// lists every source.
[[nodiscard]] std::vector<SourceFamily> source_families(const Uncertain& value);

/// The same for the budget of a mean.
[[nodiscard]] std::vector<SourceFamily> source_families(const std::vector<BudgetPart>& budget);

}  // namespace swingloss
