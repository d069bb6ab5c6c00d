// SPDX-License-Identifier: Apache-2.0
/// \file factor_effect.h
/// What a condition or an orientation does to each material.
#pragma once

#include "ranking/comparison.h"
#include "ranking/welch.h"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace swingloss {

enum class Factor { Condition, Orientation };

/// "condition" or "orientation", as files spell it.
[[nodiscard]] const char* name_of(Factor factor);

/// One level of a factor against the base level, everything else alike.
struct FactorEffect {
  Factor factor = Factor::Condition;
  std::string setting;                    ///< what stays the same: "Korvel / flat"
  std::string level, base;                ///< "annealed", "as-made"
  std::size_t group = 0, base_group = 0;  ///< indices into Ranking::groups
  std::optional<double>
      change;                ///< relative: 0.23 is 23 % more than the base; absent for bounds
  Interval change_interval;  ///< from the ratio's interval (Fieller)
  std::optional<double> p_value;  ///< as the comparison of the two groups
  std::optional<double>
      p_holm;  ///< over the effects of this factor alone: questions asked beforehand
  Verdict verdict = Verdict::NotResolved;
};

/// Whether one level's effect is the same in all settings where it was tried.
struct EffectContrast {
  Factor factor = Factor::Condition;
  std::string level, base;
  std::vector<std::size_t> effects;  ///< indices into Ranking::effects, two or more
  WelchAnova test;                   ///< of ln(ratio), each with its own variance
  bool differs = false;              ///< p below 1 - confidence
};

}  // namespace swingloss
