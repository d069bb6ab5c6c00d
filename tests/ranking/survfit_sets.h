// SPDX-License-Identifier: Apache-2.0
/// \file survfit_sets.h
/// Survival curves as R's survfit gives them.
#pragma once

#include "ranking/censored.h"

#include <vector>

namespace swingloss::test {

/// A line of R's summary(survfit(...)); -1 stands for NA.
struct SurvfitLine {
  double value;
  int at_risk, broken;
  double share, u_share, low, high;
};

struct SurvfitSet {
  const char* name;
  std::vector<CensoredValue> values;
  double median, median_low, median_high;
  std::vector<SurvfitLine> lines;
};

/// R 4.2.2, survival 3.5-3, survfit(Surv(time, event) ~ 1): Greenwood's standard error of the
/// share, conf.type = "log".
std::vector<SurvfitSet> survfit_sets();

}  // namespace swingloss::test
