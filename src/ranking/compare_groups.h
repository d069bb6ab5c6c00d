// SPDX-License-Identifier: Apache-2.0
/// \file compare_groups.h
/// Every pair of groups, with verdicts.
#pragma once

#include "ranking/comparison.h"
#include "ranking/estimate_group.h"
#include "ranking/ranking.h"
#include "ranking/shared_sources.h"

#include <vector>

namespace swingloss {

/// Compares every pair of groups, which are given toughest first.
///
/// - two plain groups: Welch's t; scatter borrowed where a group has none (then at most
/// Likely);
/// - a censored group: likelihood ratio, each group with its own scatter (belief.h);
/// - a group of which only a bound is known against one with scatter: likelihood ratio with the
///   relative scatter of the other group for both (survreg with a factor), p from the t that
///   would make the same ratio in a plain group; where the other group has no scatter of its
///   own, the chances that bound or mean fail, added;
/// - two bounds that exclude one another: exact rank test.
///
/// Shared sources that do not cancel in the difference join its variance. Verdicts after Holm
/// over all p values; bars_to_resolve at the level that Holm would ask of the pair next.
[[nodiscard]] std::vector<Comparison> compare_groups(const std::vector<GroupEstimate>& groups,
                                                     const SharedSources& shared,
                                                     const RankingOptions& options);

}  // namespace swingloss
