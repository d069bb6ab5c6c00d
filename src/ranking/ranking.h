// SPDX-License-Identifier: Apache-2.0
/// \file ranking.h
/// From bars to groups, comparisons and a ranking that says which differences are real.
#pragma once

#include "core/remark.h"
#include "ranking/bar.h"
#include "ranking/budget.h"
#include "ranking/comparison.h"
#include "ranking/factor_effect.h"
#include "ranking/group_summary.h"
#include "ranking/tie_rigs.h"
#include "ranking/welch.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace swingloss {

struct RankingOptions {
  bool by_condition = true;    ///< condition tells groups apart
  bool by_orientation = true;  ///< orientation tells groups apart
  /// Averages partial with complete and hinge breaks, against ISO 179-1 / ISO 180; said in the
  /// groups' remarks.
  bool pool_break_types = false;
  std::optional<Quantity>
      quantity;  ///< nothing: strength where every counted bar has a section, else energy
  double confidence = 0.95;  ///< of intervals and verdicts; 0.5 < confidence < 1
  int draws = 20000;         ///< simulated worlds for the ranks; 100 to 10 million
  std::uint64_t seed = 1;
  double equivalence_margin = 0.10;  ///< relative; 0.10 asks "within 10 % of each other?"
  double power = 0.80;  ///< chance with which "bars needed" would find the difference
  std::string
      base_condition;  ///< effects are counted from it; empty: "as-made", else the first
  std::string base_orientation;  ///< likewise; empty: "flat", else the first
  /// Material broken on every rig to tie the rigs together; empty: rigs stand on their own
  /// uncertainties.
  std::string reference_material;

  /// \throws InputError naming the first field out of range
  void validate() const;
};

/// The whole answer. Groups are ordered toughest first; those without any value last.
struct Ranking {
  Quantity quantity = Quantity::Strength_kJ_m2;
  RankingOptions options;  ///< as used, so that a report can be made again
  std::vector<GroupSummary> groups;
  std::vector<Comparison> comparisons;  ///< every pair, by (first, second)
  std::optional<WelchAnova> overall;    ///< whether the groups differ at all; scatter only
  std::vector<FactorEffect>
      effects;  ///< of each condition and orientation within each material
  std::vector<EffectContrast>
      effect_contrasts;                        ///< whether an effect differs between materials
  std::vector<RigTie> ties;                    ///< rigs tied by the reference material
  std::vector<std::string> verdict_sentences;  ///< the ranking in plain words, toughest first
  std::vector<std::string> effect_sentences;   ///< effects and contrasts in plain words
  Remarks remarks;
};

/// Deterministic for given bars and options.
/// \throws InputError options out of range
/// Bars without a value are listed in their group and not counted.
Ranking rank_bars(const std::vector<Bar>& bars, const RankingOptions& options = {});

}  // namespace swingloss
