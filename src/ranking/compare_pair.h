// SPDX-License-Identifier: Apache-2.0
/// \file compare_pair.h
/// One pair of groups: difference, ratio, p values.
#pragma once

#include "ranking/comparison.h"
#include "ranking/estimate_group.h"
#include "ranking/ranking.h"
#include "ranking/shared_sources.h"

namespace swingloss {

/// Two groups and the comparison that is being made of them.
struct Pair {
  const GroupEstimate& first;
  const GroupEstimate& second;
  const SharedSources& shared;
  const RankingOptions& options;
  Comparison& result;  ///< `first` and `second` are set
};

/// Of this group only a bound is known.
[[nodiscard]] bool is_bound(const GroupEstimate& group);

/// Fills difference, ratio, their intervals, p_value, p_equivalent (this pair alone), method
/// and u_shared, as far as the groups allow.
void compare_pair(const Pair& pair);

}  // namespace swingloss
