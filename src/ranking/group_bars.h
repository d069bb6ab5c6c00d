// SPDX-License-Identifier: Apache-2.0
/// \file group_bars.h
/// Sorting bars into groups and break types.
#pragma once

#include "ranking/group_summary.h"
#include "ranking/ranking.h"

#include <vector>

namespace swingloss {

/// What a bar contributes to the mean of its group.
enum class BarRole {
  Value,    ///< a plain value of the group's break class
  Above,    ///< a bound from below: did not break, or more than the instrument shows
  Below,    ///< a bound from above
  Apart,    ///< a plain value of another break class
  LeftOut,  ///< by its maker's wish
  NoValue,  ///< not measured, or without the section that the ranked quantity needs
};

/// A group before any arithmetic: names, counts, break classes (bars only) and remarks of the
/// summary are filled in.
struct BarGroup {
  GroupSummary summary;
  std::vector<BarRole> roles;  ///< one a bar of `summary.bars`

  /// Bars of the role, indices into the bars given.
  [[nodiscard]] std::vector<std::size_t> bars_of(BarRole role) const;
};

/// Strength where every bar that counts has a section, else energy.
[[nodiscard]] Quantity ranked_quantity(const std::vector<Bar>& bars,
                                       const RankingOptions& options);

/// Groups in the order in which their first bars come.
///
/// The group's mean is of the break class (complete and hinge together, or partial) with more
/// plain values, complete and hinge among equals; bars whose break type is not given go with
/// it. A bar that did not break counts as "above", whatever limit was typed.
[[nodiscard]] std::vector<BarGroup> group_bars(const std::vector<Bar>& bars,
                                               Quantity quantity,
                                               const RankingOptions& options);

}  // namespace swingloss
