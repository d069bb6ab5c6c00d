// SPDX-License-Identifier: Apache-2.0
/// \file evaluate.h
/// How a standard uncertainty is got: from repeated readings, or from what is known.
#pragma once

#include "core/uncertain.h"

#include <string>
#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// Mean of repeated readings; u = s / sqrt(n) with n - 1 degrees of freedom [JCGM100 4.2].
/// \param readings  at least two, finite
/// \throws std::logic_error  fewer than two
[[nodiscard]] Uncertain mean_of(const std::vector<double>& readings,
                                const std::string& source,
                                SourceKind kind);

/// Means of quantities that were read together, a column a quantity, a row a reading of all:
/// their correlation is taken from the readings too [JCGM100 5.2.3, H.2].
[[nodiscard]] std::vector<Uncertain> means_of(const Eigen::MatrixXd& readings,
                                              const std::string& source,
                                              SourceKind kind);

/// What is known of the error of a value that is not read again and again [JCGM100 4.3].
enum class ErrorShape {
  Rectangular,  ///< anywhere within the limits: a tolerance, a last digit; u = a / sqrt(3)
  Triangular,   ///< rather in the middle: sum of two such; u = a / sqrt(6)
  Arcsine,      ///< rather at the ends: a cycling temperature; u = a / sqrt(2)
};

/// A value known to lie within limits.
struct Limits {
  double value = 0.0;
  double half_width = 0.0;  ///< >= 0
  ErrorShape shape = ErrorShape::Rectangular;
  /// How doubtful the half-width itself is, 0 to 1: the degrees of freedom are
  /// 1 / (2 relative_doubt^2) [JCGM100 G.4.2]; 0: infinite.
  double relative_doubt = 0.0;
};

/// \throws std::logic_error  a half-width or doubt out of range
[[nodiscard]] Uncertain within(const Limits& limits,
                               const std::string& source,
                               SourceKind kind);

}  // namespace swingloss
