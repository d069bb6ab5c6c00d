// SPDX-License-Identifier: Apache-2.0
/// \file approach.h
/// How a quantity comes to rest over time: two laws and their fit.
#pragma once

#include "core/result.h"

#include <optional>
#include <vector>

namespace swingloss {

enum class ApproachLaw {
  Plate,  ///< diffusion into a plate from both faces [ISO62]; slows down from a fast start
  Exponential,  ///< 1 - exp(-t/tau): well-stirred, or late in any approach
};

/// "plate diffusion" or "exponential", as the report says it.
[[nodiscard]] const char* name_of(ApproachLaw law);

/// Share of the final change that is reached after `time`, in units of the time constant:
///
///   Plate        1 - 8/pi^2 sum exp(-(2k-1)^2 x)/(2k-1)^2,  x = time/tau, tau = d^2/(pi^2 D)
///   Exponential  1 - exp(-x)
///
/// d the plate's thickness, D the diffusion constant.
/// \param x  >= 0
/// Accuracy: 1e-12 (tests/ranking/approach_test.cc).
[[nodiscard]] double approach_share(ApproachLaw law, double x);

/// The x at which a share is reached. \param share  0 <= share < 1
[[nodiscard]] double approach_time(ApproachLaw law, double share);

/// One reading of the quantity.
struct Reading {
  double t_s = 0.0;
  double value = 0.0;
};

/// The law that was fitted: value = initial + (final - initial) share(t / tau).
struct ApproachFit {
  ApproachLaw law = ApproachLaw::Plate;
  double initial = 0.0, final = 0.0;
  double time_constant_s = 0.0;
  double u_initial = 0.0, u_final = 0.0, u_log_time_constant = 0.0;  ///< from the residuals
  double residual_s = 0.0;  ///< root of (sum of squares / degrees of freedom)
  double sum_of_squares = 0.0;
  int degrees_of_freedom = 0;

  [[nodiscard]] double value_at(double t_s) const;
};

struct ApproachOptions {
  /// Value at time zero, where it is known and not to be fitted.
  std::optional<double> initial;
};

/// Least squares: for each time constant the other two parameters follow linearly, so that one
/// dimension is searched, first on a grid over all scales that the readings could show, then
/// by golden section.
/// \param readings  rising time
/// \return the fit, or Failure:
///   "too-few-readings"  not more readings than parameters;
///   "no-change"         all readings alike;
///   "not-yet-bending"   the best time constant is far beyond the record: the end cannot be
///   told
Result<ApproachFit> fit_approach(const std::vector<Reading>& readings,
                                 ApproachLaw law,
                                 const ApproachOptions& options = {});

}  // namespace swingloss
