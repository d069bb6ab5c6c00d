// SPDX-License-Identifier: Apache-2.0
/// \file sample.h
/// Mean, scatter and t interval of plain values.
#pragma once

#include "ranking/interval.h"

#include <optional>
#include <vector>

namespace swingloss {

/// What a set of plain values says, in their unit.
struct Sample {
  int n = 0;
  double mean = 0.0;
  std::optional<double> s;  ///< sample standard deviation, n - 1; absent for fewer than two

  /// s^2 / n: variance of the mean. \throws std::logic_error without s
  [[nodiscard]] double mean_variance() const;
};

/// Mean and standard deviation by two passes, the second corrected for the rounding of the
/// first, so that values with a common large part keep their digits.
///
/// Accuracy: the certified digits of the NIST StRD univariate sets, as far as the values
/// themselves survive being stored as doubles (tests/ranking/sample_test.cc).
/// \throws std::logic_error no values, or one that is not finite
[[nodiscard]] Sample summarise(const std::vector<double>& values);

/// mean +/- t s / sqrt(n). No ends for fewer than two values, nor for values that are all the
/// same: a scatter of exactly zero says that the values were rounded or copied, not that the
/// mean is known exactly.
[[nodiscard]] Interval t_interval(const Sample& sample, double confidence);

}  // namespace swingloss
