// SPDX-License-Identifier: Apache-2.0
/// \file censored_likelihood.h
/// The likelihood of normal values some of which are only bounds, in the form in which it is
/// concave.
#pragma once

#include "ranking/censored.h"

#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// Values of one group, sorted by what they say, after the logarithm where there is one.
struct CensoredSet {
  std::vector<double> exact, above, below;
  double log_jacobian = 0.0;  ///< -sum ln(value) over the exact ones for LogNormal, else 0

  [[nodiscard]] int size() const {
    return static_cast<int>(exact.size() + above.size() + below.size());
  }
};

/// \throws std::logic_error LogNormal with a value not above zero
[[nodiscard]] CensoredSet sort_by_limit(const std::vector<CensoredValue>& values,
                                        Scatter scatter);

/// All values above zero, as LogNormal needs.
[[nodiscard]] bool all_positive(const std::vector<CensoredValue>& values);

/// Two different exact values in one group: without them no scale is the most likely.
[[nodiscard]] bool has_scatter(const CensoredSet& set);

/// Location of each group and the scale they share, by Newton's method on
/// (location_1/scale, ..., 1/scale) [Olsen1978].
/// \param sets  each with an exact value, one at least with scatter
[[nodiscard]] CommonScaleFit maximise(const std::vector<CensoredSet>& sets);

/// ln L maximised over the scale for one fixed location.
[[nodiscard]] double maximise_scale(const CensoredSet& set, double location);

/// Negative second derivatives of ln L by (location, ln scale).
[[nodiscard]] Eigen::Matrix2d observed_information(const CensoredSet& set,
                                                   double location,
                                                   double scale);

}  // namespace swingloss
