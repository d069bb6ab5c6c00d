// SPDX-License-Identifier: Apache-2.0
#include "metrology/least_squares.h"

#include "core/expects.h"
#include "core/number_text.h"
#include "metrology/differences.h"
#include "metrology/minimize.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include <Eigen/SVD>

namespace swingloss {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double kRounding = 1e-13;
constexpr int kMostPolishingSteps = 40;
// A start far from the answer can throw the first bold step over the valley into a plain where
// the residuals no longer depend on a parameter; creeping away from it does not.
constexpr double kBoldRadius = 1e4;
constexpr double kCautiousRadius = 1e-4;

VectorXd scale_of(const LeastSquaresProblem& problem) {
  if (problem.scale.size() > 0) return problem.scale;
  return problem.start.unaryExpr(
      [](double start) { return start != 0.0 ? 0.01 * std::abs(start) : 1.0; });
}

/// The problem with its priors as rows under the residuals: what is really minimized.
SquaresToMinimize with_priors(const LeastSquaresProblem& problem) {
  const auto prior_count = static_cast<Index>(problem.priors.size());
  const auto residuals = [&problem, prior_count](const VectorXd& x) {
    const VectorXd data = problem.residuals(x);
    VectorXd all(data.size() + prior_count);
    all.head(data.size()) = data;
    Index row = data.size();
    for (const ParameterPrior& prior : problem.priors) {
      all[row++] = (x[static_cast<Index>(prior.parameter)] - prior.value) / prior.u;
    }
    return all;
  };
  const auto jacobian = [&problem, prior_count](const VectorXd& x) {
    const MatrixXd data = problem.jacobian
                              ? problem.jacobian(x)
                              : numeric_jacobian(problem.residuals, x, scale_of(problem));
    MatrixXd all = MatrixXd::Zero(data.rows() + prior_count, x.size());
    all.topRows(data.rows()) = data;
    Index row = data.rows();
    for (const ParameterPrior& prior : problem.priors) {
      all(row++, static_cast<Index>(prior.parameter)) = 1.0 / prior.u;
    }
    return all;
  };
  return {residuals, jacobian};
}

/// A point on the way, with all that the decisions need.
struct Point {
  VectorXd x;
  VectorXd residuals;
  MatrixXd jacobian;
  VectorXd step;             ///< Gauss-Newton step from here
  double step_chi2 = 0.0;    ///< squared length of the step in units where (J'J)^-1 is 1
  VectorXd column_lengths;   ///< of the jacobian
  VectorXd singular_values;  ///< of the jacobian with columns scaled to length 1
  MatrixXd directions;       ///< right singular vectors of the same
  [[nodiscard]] bool is_defined() const {
    return residuals.allFinite() && jacobian.allFinite();
  }
};

Point look_at(const SquaresToMinimize& squares, const VectorXd& x) {
  Point point;
  point.x = x;
  point.residuals = squares.residuals(x);
  point.jacobian = squares.jacobian(x);
  if (!point.is_defined()) return point;
  point.column_lengths = point.jacobian.colwise().norm();
  const VectorXd per_length = point.column_lengths.unaryExpr(
      [](double length) { return length > 0.0 ? 1.0 / length : 0.0; });
  const MatrixXd scaled = point.jacobian * per_length.asDiagonal();
  const Eigen::JacobiSVD<MatrixXd> svd(scaled, Eigen::ComputeThinU | Eigen::ComputeThinV);
  point.singular_values = svd.singularValues();
  point.directions = svd.matrixV();
  point.step = per_length.asDiagonal() * svd.solve(-point.residuals);
  point.step_chi2 = (svd.matrixU().transpose() * point.residuals).squaredNorm();
  return point;
}

/// Whether the step still to be made is within the rounding of the parameters: all there is to
/// ask where the data fit perfectly and no scatter sets a scale.
bool is_rounding(const Point& point) {
  return (point.step.array().abs() <= kRounding * point.x.array().abs()).all();
}

/// Full Gauss-Newton steps as long as each shortens the next: the descent stops when the sum of
/// squares no longer changes, which leaves the parameters good to half the digits only.
Point polished(const SquaresToMinimize& squares, Point point) {
  for (int i = 0; i < kMostPolishingSteps; ++i) {
    if (!point.is_defined() || is_rounding(point)) break;
    Point next = look_at(squares, point.x + point.step);
    if (!next.is_defined() || next.step_chi2 >= 0.8 * point.step_chi2) break;
    point = std::move(next);
  }
  return point;
}

bool is_unidentifiable(const Point& point, const LeastSquaresOptions& options) {
  const VectorXd& s = point.singular_values;
  return point.column_lengths.minCoeff() == 0.0 ||
         s[s.size() - 1] < options.min_singular_ratio * s[0];
}

/// Names of the parameters that take part in the least determined direction.
std::string undetermined_names(const LeastSquaresProblem& problem, const Point& point) {
  std::string names;
  const bool some_without_effect = point.column_lengths.minCoeff() == 0.0;
  const VectorXd weakest = point.directions.rightCols(1).cwiseAbs();
  for (Index i = 0; i < weakest.size(); ++i) {
    const bool takes_part = some_without_effect ? point.column_lengths[i] == 0.0
                                                : weakest[i] > 0.3 * weakest.maxCoeff();
    if (!takes_part) continue;
    names += (names.empty() ? "" : ", ") + problem.names[static_cast<std::size_t>(i)];
  }
  return names;
}

/// (J'J)^-1 from the singular values, which does not square the condition number.
MatrixXd inverse_normal_matrix(const Point& point) {
  const MatrixXd root = point.column_lengths.cwiseInverse().asDiagonal() * point.directions *
                        point.singular_values.cwiseInverse().asDiagonal();
  return root * root.transpose();
}

double variance_factor(VarianceSource source, double chi2, int dof) {
  const double observed = dof > 0 ? chi2 / dof : 1.0;
  switch (source) {
    case VarianceSource::Weights:
      return 1.0;
    case VarianceSource::Residuals:
      return observed;
    case VarianceSource::Larger:
      return std::max(1.0, observed);
  }
  return 1.0;
}

void check(const LeastSquaresProblem& problem, const LeastSquaresOptions& options) {
  const Index n = problem.start.size();
  expects(static_cast<bool>(problem.residuals), "a fit has no residual function");
  expects(n > 0 && problem.start.allFinite(), "a fit needs finite start values");
  expects(problem.names.size() == static_cast<std::size_t>(n),
          "a fit needs a name a parameter");
  expects(problem.scale.size() == 0 ||
              (problem.scale.size() == n && (problem.scale.array() > 0.0).all()),
          "a fit needs a scale above 0 for each parameter, or none at all");
  for (const ParameterPrior& prior : problem.priors) {
    expects(prior.parameter < static_cast<std::size_t>(n), "a prior is for no parameter");
    expects(prior.u > 0.0 && std::isfinite(prior.u) && std::isfinite(prior.value),
            "a prior's uncertainty must be positive and finite");
  }
  expects(options.max_iterations > 0 && options.max_offset_in_u > 0.0 &&
              options.min_singular_ratio > 0.0,
          "an option of the fit is out of range");
}

LeastSquaresFit conclude(const Point& point, Index priors, VarianceSource source) {
  LeastSquaresFit fit;
  const Index data = point.residuals.size() - priors;
  fit.parameters = point.x;
  fit.chi2 = point.residuals.squaredNorm();
  fit.degrees_of_freedom = static_cast<int>(point.residuals.size() - point.x.size());
  fit.variance_factor = variance_factor(source, fit.chi2, fit.degrees_of_freedom);
  fit.covariance = fit.variance_factor * inverse_normal_matrix(point);
  const bool rests_on_weights =
      source == VarianceSource::Weights ||
      (source == VarianceSource::Larger && fit.variance_factor == 1.0);
  fit.uncertainty_dof = rests_on_weights ? std::numeric_limits<double>::infinity()
                                         : static_cast<double>(fit.degrees_of_freedom);
  fit.residuals = point.residuals.head(data);
  fit.jacobian = point.jacobian.topRows(data);
  fit.offset_in_u =
      fit.variance_factor > 0.0 ? std::sqrt(point.step_chi2 / fit.variance_factor) : 0.0;
  return fit;
}

Result<LeastSquaresFit> fit_from(const LeastSquaresProblem& problem,
                                 const LeastSquaresOptions& options,
                                 double first_trust_radius) {
  const SquaresToMinimize squares = with_priors(problem);
  const DescentEnd end =
      descend(squares, problem.start, {options.max_iterations, first_trust_radius});
  const Point point = polished(squares, look_at(squares, end.x));
  if (!point.is_defined()) {
    return Failure{"did-not-converge",
                   "the model has no slope where the fit ended",
                   "Start from other values."};
  }
  if (is_unidentifiable(point, options)) {
    return Failure{"parameter-unidentifiable",
                   "the data do not determine: " + undetermined_names(problem, point),
                   "Give data that tell them apart, or fix one of them."};
  }
  LeastSquaresFit fit =
      conclude(point, static_cast<Index>(problem.priors.size()), options.variance);
  fit.iterations = end.iterations;
  fit.stop_reason = end.reason;
  if (fit.offset_in_u > options.max_offset_in_u && !is_rounding(point)) {
    return Failure{"did-not-converge",
                   "after " + std::to_string(fit.iterations) + " steps the fit is still " +
                       significant_text(fit.offset_in_u, 2) +
                       " standard uncertainties from a minimum (" + fit.stop_reason + ")",
                   "Start from values nearer to the answer, or fit fewer unknowns."};
  }
  return fit;
}

}  // namespace

double LeastSquaresFit::u(Eigen::Index parameter) const {
  return std::sqrt(covariance(parameter, parameter));
}

double LeastSquaresFit::correlation(Eigen::Index a, Eigen::Index b) const {
  return covariance(a, b) / (u(a) * u(b));
}

Result<LeastSquaresFit> least_squares(const LeastSquaresProblem& problem,
                                      const LeastSquaresOptions& options) {
  check(problem, options);
  const VectorXd at_start = problem.residuals(problem.start);
  const Index n = problem.start.size();
  const Index rows = at_start.size() + static_cast<Index>(problem.priors.size());
  if (rows < n + (options.variance == VarianceSource::Residuals ? 1 : 0)) {
    return Failure{"too-few-data",
                   std::to_string(rows) + " data for " + std::to_string(n) + " unknowns",
                   "Give more data, or fix some of the unknowns."};
  }
  if (!at_start.allFinite()) {
    return Failure{"model-undefined",
                   "the model has no value at the start of the fit",
                   "Start from other values."};
  }
  Result<LeastSquaresFit> bold = fit_from(problem, options, kBoldRadius);
  if (bold.ok()) return bold;
  Result<LeastSquaresFit> cautious = fit_from(problem, options, kCautiousRadius);
  return cautious.ok() ? cautious : bold;
}

}  // namespace swingloss
