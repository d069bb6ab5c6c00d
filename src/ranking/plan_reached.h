// SPDX-License-Identifier: Apache-2.0
/// \file plan_reached.h
/// What the bars broken so far have reached, and how many more a finer answer takes.
#pragma once

#include "ranking/ranking.h"

#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// Precision of one group of a ranking.
struct ReachedRow {
  std::size_t group = 0;  ///< index into Ranking::groups
  int bars = 0;           ///< counted so far
  std::optional<double>
      half_width;  ///< of the mean's interval, relative; longer side where uneven
  std::optional<double>
      cautious_cv;  ///< scatter that the group may well have (80 %, one-sided)
  std::vector<std::optional<int>>
      bars_for;  ///< in all, one a wanted half-width; absent beyond 1000
};

/// For every group with a scatter: how far its mean is known, and the bars in all that it would
/// take to know it within each wanted half-width, planned with the cautious scatter.
/// \param wanted_half_widths  relative, each > 0
/// \throws InputError  a half-width not above 0
[[nodiscard]] std::vector<ReachedRow> precision_reached(
    const Ranking& ranking, const std::vector<double>& wanted_half_widths = {0.10, 0.05, 0.02});

}  // namespace swingloss
