// SPDX-License-Identifier: Apache-2.0
#include "metrology/correlated.h"

#include "core/expects.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Eigenvalues>

namespace swingloss {
namespace {

constexpr double kRounding = 1e-6;

/// A square root of a positive semidefinite matrix with unit (or zero) diagonal, from its
/// eigenvectors: an ill-conditioned fit's covariance may have eigenvalues that rounding has
/// made slightly negative, and those are zero.
Eigen::MatrixXd semidefinite_factor(const Eigen::MatrixXd& correlation) {
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen(correlation);
  const Eigen::VectorXd& values = eigen.eigenvalues();
  expects(values.minCoeff() > -kRounding * std::max(1.0, values.maxCoeff()),
          "a covariance is not positive semidefinite");
  const Eigen::MatrixXd root =
      eigen.eigenvectors() * values.cwiseMax(0.0).cwiseSqrt().asDiagonal();
  // The given variances again, of which clipping may have changed a trace.
  Eigen::MatrixXd factor = root;
  for (Eigen::Index i = 0; i < factor.rows(); ++i) {
    const double length = root.row(i).norm();
    if (length > 0.0) factor.row(i) *= std::sqrt(std::max(0.0, correlation(i, i))) / length;
  }
  return factor;
}

double covariance_of(const Uncertain& a, const Uncertain& b) {
  double sum = 0.0;
  for (const Contribution& part : a.parts()) {
    for (const Contribution& other : b.parts()) {
      if (part.source == other.source) sum += part.signed_u * other.signed_u;
    }
  }
  return sum;
}

/// Standard uncertainties on the diagonal, checked.
Eigen::VectorXd standard_uncertainties(const Eigen::VectorXd& values,
                                       const Eigen::MatrixXd& covariance) {
  expects(covariance.rows() == values.size() && covariance.cols() == values.size(),
          "a covariance has another size than its values");
  expects(values.allFinite() && covariance.allFinite(), "a covariance is not finite");
  expects((covariance.diagonal().array() >= 0.0).all(), "a variance is negative");
  return covariance.diagonal().cwiseSqrt();
}

}  // namespace

std::vector<Uncertain> correlated(const Eigen::VectorXd& values,
                                  const Eigen::MatrixXd& covariance,
                                  const std::string& source,
                                  SourceKind kind,
                                  double degrees_of_freedom) {
  expects(source.find('[') == std::string::npos, "the name of a joint estimate has a bracket");
  if (values.size() == 0) return {};
  const Eigen::VectorXd u = standard_uncertainties(values, covariance);
  const Eigen::VectorXd per_u = u.unaryExpr([](double x) { return x > 0.0 ? 1.0 / x : 0.0; });
  const Eigen::MatrixXd correlation = per_u.asDiagonal() * covariance * per_u.asDiagonal();
  expects((correlation - correlation.transpose()).cwiseAbs().maxCoeff() < kRounding,
          "a covariance is not symmetric");
  const Eigen::MatrixXd factor = u.asDiagonal() * semidefinite_factor(correlation);

  std::vector<Uncertain> results;
  for (Eigen::Index i = 0; i < values.size(); ++i) {
    Uncertain result = Uncertain::exact(values[i]);
    for (Eigen::Index k = 0; k < factor.cols(); ++k) {
      const auto z = Uncertain::from(
          0.0, 1.0, source + "[" + std::to_string(k + 1) + "]", kind, degrees_of_freedom);
      result = result + factor(i, k) * z;
    }
    results.push_back(result);
  }
  return results;
}

std::vector<Uncertain> correlated(const LeastSquaresFit& fit,
                                  const std::string& source,
                                  SourceKind kind) {
  return correlated(fit.parameters, fit.covariance, source, kind, fit.uncertainty_dof);
}

Eigen::MatrixXd covariance_of(const std::vector<Uncertain>& values) {
  const auto n = static_cast<Eigen::Index>(values.size());
  Eigen::MatrixXd covariance(n, n);
  for (Eigen::Index i = 0; i < n; ++i) {
    for (Eigen::Index j = 0; j <= i; ++j) {
      covariance(i, j) = covariance_of(values[static_cast<std::size_t>(i)],
                                       values[static_cast<std::size_t>(j)]);
      covariance(j, i) = covariance(i, j);
    }
  }
  return covariance;
}

}  // namespace swingloss
