// SPDX-License-Identifier: Apache-2.0
/// \file kaplan_meier.h
/// What share of bars withstands a given value, without assuming any form of the scatter.
#pragma once

#include "ranking/censored.h"

#include <optional>
#include <vector>

namespace swingloss {

/// The share of bars that withstand more than `value`, from this step to the next.
struct SurvivalStep {
  double value = 0.0;
  int at_risk = 0;  ///< bars not yet broken nor out of sight below this value
  int broken = 0;   ///< at this value
  double share = 1.0;
  double u_share = 0.0;  ///< Greenwood's standard error; 0 at share 0, where it is undefined
  Interval interval;     ///< exp of ln(share) +/- z u/share, at most 1; no ends at share 0
};

struct SurvivalCurve {
  std::vector<SurvivalStep> steps;  ///< rising value; one a value at which bars broke
  std::optional<double> median;  ///< where the share comes down to 1/2; absent when it does not
  Interval median_interval;
};

/// Product-limit estimate with right-censored values [KaplanMeier1958]. A bar that held at the
/// very value at which another broke counts as at risk there. Agrees with R's survfit
/// (tests/ranking/kaplan_meier_test.cc).
/// \param values  none left-censored; may be empty
/// \throws std::logic_error for a left-censored value
[[nodiscard]] SurvivalCurve kaplan_meier(const std::vector<CensoredValue>& values,
                                         double confidence = 0.95);

}  // namespace swingloss
