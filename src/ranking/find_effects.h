// SPDX-License-Identifier: Apache-2.0
/// \file find_effects.h
/// Picks the pairs that differ in one factor only out of all comparisons.
#pragma once

#include "ranking/estimate_group.h"
#include "ranking/factor_effect.h"
#include "ranking/ranking.h"
#include "ranking/shared_sources.h"

#include <vector>

namespace swingloss {

struct EffectTables {
  std::vector<FactorEffect> effects;
  std::vector<EffectContrast> contrasts;
};

/// Effects of every condition and every orientation against the base level, for each setting in
/// which both were broken, and whether a level's effect differs between settings.
///
/// The base is options.base_condition / base_orientation, else "as-made" / "flat", else the
/// level of the earliest bar. The contrast compares ln(ratio) by Welch's analysis, each effect
/// with the variance of its two groups and of what their sources do not share.
/// \param ranking    groups and comparisons are filled in
/// \param estimates  one a group of the ranking
[[nodiscard]] EffectTables find_effects(const Ranking& ranking,
                                        const std::vector<GroupEstimate>& estimates,
                                        const SharedSources& shared);

}  // namespace swingloss
