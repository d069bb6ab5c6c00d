// SPDX-License-Identifier: Apache-2.0
#include "metrology/evaluate.h"

#include "core/expects.h"
#include "metrology/correlated.h"

#include <cmath>
#include <limits>

namespace swingloss {
namespace {

double divisor_of(ErrorShape shape) {
  switch (shape) {
    case ErrorShape::Rectangular:
      return std::sqrt(3.0);
    case ErrorShape::Triangular:
      return std::sqrt(6.0);
    case ErrorShape::Arcsine:
      return std::sqrt(2.0);
  }
  return 1.0;
}

}  // namespace

Uncertain mean_of(const std::vector<double>& readings,
                  const std::string& source,
                  SourceKind kind) {
  expects(readings.size() >= 2, "a mean with an uncertainty needs at least two readings");
  const auto n = static_cast<Eigen::Index>(readings.size());
  const Eigen::Map<const Eigen::VectorXd> x(readings.data(), n);
  const double mean = x.mean();
  const auto dof = static_cast<double>(n - 1);
  const double variance = (x.array() - mean).square().sum() / dof;
  return Uncertain::from(mean, std::sqrt(variance / static_cast<double>(n)), source, kind, dof);
}

std::vector<Uncertain> means_of(const Eigen::MatrixXd& readings,
                                const std::string& source,
                                SourceKind kind) {
  expects(readings.rows() >= 2, "a mean with an uncertainty needs at least two readings");
  const auto n = static_cast<double>(readings.rows());
  const Eigen::VectorXd means = readings.colwise().mean();
  const Eigen::MatrixXd deviations = readings.rowwise() - means.transpose();
  const Eigen::MatrixXd covariance = deviations.transpose() * deviations / (n * (n - 1.0));
  return correlated(means, covariance, source, kind, n - 1.0);
}

Uncertain within(const Limits& limits, const std::string& source, SourceKind kind) {
  expects(limits.half_width >= 0.0 && std::isfinite(limits.half_width),
          "limits must be finite and not reversed");
  expects(limits.relative_doubt >= 0.0 && limits.relative_doubt <= 1.0,
          "a relative doubt must be 0 to 1");
  const double dof = limits.relative_doubt > 0.0
                         ? 0.5 / (limits.relative_doubt * limits.relative_doubt)
                         : std::numeric_limits<double>::infinity();
  return Uncertain::from(
      limits.value, limits.half_width / divisor_of(limits.shape), source, kind, dof);
}

}  // namespace swingloss
