// SPDX-License-Identifier: Apache-2.0
/// \file least_squares.h
/// Weighted nonlinear least squares with the covariance of what it finds.
#pragma once

#include "core/result.h"

#include <functional>
#include <string>
#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// Residuals at a point of parameter space: (measured - model) / u for each datum, in a fixed
/// order and number. An entry that is not finite says "the model is not defined here": the fit
/// keeps away.
using ResidualFunction = std::function<Eigen::VectorXd(const Eigen::VectorXd&)>;

/// Derivatives of the residuals: a row a residual, a column a parameter.
using JacobianFunction = std::function<Eigen::MatrixXd(const Eigen::VectorXd&)>;

/// What is known of one parameter beforehand: one more datum, (parameter - value) / u.
struct ParameterPrior {
  std::size_t parameter = 0;  ///< index
  double value = 0.0;
  double u = 0.0;  ///< standard uncertainty, > 0
};

/// What is to be fitted. `names`, `start` have an entry a parameter.
struct LeastSquaresProblem {
  std::vector<std::string> names;  ///< for messages: "release angle"
  Eigen::VectorXd start;
  ResidualFunction residuals;
  JacobianFunction jacobian;  ///< empty: differences (differences.h)
  std::vector<ParameterPrior> priors;
  /// A change of each parameter that matters, for the steps of differences where the parameter
  /// is near 0; > 0. Empty: a hundredth of the start value, or 1 where that is 0.
  Eigen::VectorXd scale;
};

/// Where the size of the data's uncertainty is taken from.
enum class VarianceSource {
  Weights,    ///< the residuals' own u is right: covariance (J'J)^-1
  Residuals,  ///< only its proportions are: (J'J)^-1 chi2 / dof, as [NISTStRD] certifies
  Larger,     ///< the larger of the two: never less than the weights say
};

struct LeastSquaresOptions {
  VarianceSource variance = VarianceSource::Larger;
  /// Steps of the descent. The hardest certified problem of the tests needs fewer than 400 from
  /// its far start (tests/metrology/nist_test.cc); more is a sign of a model that the data do
  /// not bear.
  int max_iterations = 500;
  /// Converged when the step still to be made is shorter than this many standard uncertainties.
  double max_offset_in_u = 1e-3;
  /// Unidentifiable when some direction moves the residuals less than this, relative to the
  /// direction that moves them most, each parameter scaled to unit effect. Differences carry a
  /// relative error of about 1e-11.
  double min_singular_ratio = 1e-9;
};

/// The minimum and how well the data fix it.
struct LeastSquaresFit {
  Eigen::VectorXd parameters;
  Eigen::MatrixXd covariance;    ///< as VarianceSource says
  double chi2 = 0.0;             ///< sum of squares of all residuals, priors included
  int degrees_of_freedom = 0;    ///< residuals + priors - parameters
  double variance_factor = 1.0;  ///< by which (J'J)^-1 was multiplied
  /// Degrees of freedom of the stated uncertainties: infinite when they rest on the weights.
  double uncertainty_dof = 0.0;
  Eigen::VectorXd residuals;  ///< at the minimum, without the priors
  Eigen::MatrixXd jacobian;   ///< of `residuals`
  double offset_in_u = 0.0;  ///< length of the step still to be made, in standard uncertainties
  int iterations = 0;
  std::string stop_reason;  ///< in words

  [[nodiscard]] double u(Eigen::Index parameter) const;
  /// Correlation coefficient of two parameters.
  [[nodiscard]] double correlation(Eigen::Index a, Eigen::Index b) const;
};

/// Minimizes the sum of squares of the residuals by trust regions (Levenberg-Marquardt), then
/// by Gauss-Newton steps down to rounding.
///
///   covariance = factor (J'J)^-1        [JCGM100 H.3; NISTStRD]
///
/// Linearized at the minimum: where the residuals curve within one standard uncertainty, use
/// profile intervals or monte_carlo.h beside it. Finds the minimum near `start`, not the
/// deepest one. Deterministic, one thread.
///
/// \return the fit, or a Failure:
///   - `did-not-converge`: no minimum reached; start nearer, or a simpler model
///   - `parameter-unidentifiable`: the data do not tell some parameters apart (named in the
///     cause); more data, a prior, or fewer parameters
///   - `model-undefined`: the residuals are not finite at the start
///   - `too-few-data`: fewer residuals and priors than parameters, or as many with
///     VarianceSource::Residuals
/// \throws std::logic_error  sizes that do not match, a prior without u, option out of range
///
/// Accuracy: the certified values of twelve NIST problems from both starts to at least 9 of 11
/// digits, their standard deviations to 8; eleven of them to 10 and 9
/// (tests/metrology/nist_test.cc).
Result<LeastSquaresFit> least_squares(const LeastSquaresProblem& problem,
                                      const LeastSquaresOptions& options = {});

}  // namespace swingloss
