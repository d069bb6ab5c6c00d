// SPDX-License-Identifier: Apache-2.0
/// \file coverage.h
/// From a standard uncertainty to an interval that one may bet on.
#pragma once

#include "core/uncertain.h"

namespace swingloss {

/// t_p of the tables: a normal error lies within +/- t_p estimated standard deviations with
/// probability `coverage` [JCGM100 Table G.2].
/// \param coverage  0 < coverage < 1: 0.95
/// \param degrees_of_freedom  > 0, not necessarily whole; infinite: the normal's factor.
///        [JCGM100 G.4.1] allows the real number, as here, or the next lower whole one.
[[nodiscard]] double coverage_factor(double coverage, double degrees_of_freedom);

/// A value with its expanded uncertainty, and all that must be said with it.
struct Expanded {
  double value = 0.0;
  double expanded_u = 0.0;  ///< coverage_factor times standard uncertainty
  double coverage_factor = 0.0;
  double coverage = 0.0;
  double degrees_of_freedom = 0.0;  ///< effective
  [[nodiscard]] double low() const { return value - expanded_u; }
  [[nodiscard]] double high() const { return value + expanded_u; }
};

/// value +/- t_p(effective degrees of freedom) u [JCGM100 G.4, 6.2].
[[nodiscard]] Expanded expanded(const Uncertain& x, double coverage = 0.95);

}  // namespace swingloss
