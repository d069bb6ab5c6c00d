// SPDX-License-Identifier: Apache-2.0
/// \file joint_fit.h
/// One least-squares fit of the pendulum's law to everything that a clip shows.
#pragma once

#include "core/result.h"
#include "swing/joint_model.h"
#include "swing/residual_noise.h"

#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// The fit and all that uncertainties need.
struct JointFit {
  Eigen::VectorXd parameters;       ///< ParameterPlaces
  Eigen::MatrixXd covariance;       ///< (J'J + priors)^-1, by the noise found
  Eigen::MatrixXd tracking;         ///< the part of the covariance that the points cause
  std::vector<bool> used;           ///< a flag a point: not left out as an outlier
  Eigen::VectorXd residual_rad;     ///< measured minus fitted, a row a point
  Eigen::VectorXd omega_rad_per_s;  ///< fitted, a row a point
  NoiseModel noise;
  double log_likelihood = 0.0;      ///< of the used points by their noise, constants left out
  double scatter_in_u = 0.0;        ///< rms of residual / u over the used points
  double inefficiency = 1.0;        ///< of the residuals, (1 + rho) / (1 - rho)
  double degrees_of_freedom = 0.0;  ///< used points minus fitted parameters

  /// A parameter with its named contributions:
  ///   tracking[k]          the samples' random part (own)
  ///   tracking.view[k]     the same, of the doubts' scores alone (own)
  ///   a level's source     holds, rests, a latch
  ///   a doubt's source     the view (shared)
  ///   the priors' sources  friction and w0 as the rig has them
  /// Each is C P times the source's own u: how far the estimate follows what is not measured
  /// here. \param value_of  of `problem` as given to fit_jointly
  [[nodiscard]] std::vector<Uncertain> uncertain(const JointProblem& problem) const;
};

/// Levenberg-Marquardt with exact derivatives; loss terms kept at 0 or above. Outliers first
/// weighted down [Huber1964], then left out beyond five standard deviations, these re-estimated
/// (noise_of) until nothing changes. Covariances allow for residuals that remember their
/// neighbours (memory_of): C J'R J C and not C [White1980].
///
/// \return the fit, or Failure `fit-failed`: it ran away or cannot tell its parameters apart
[[nodiscard]] Result<JointFit> fit_jointly(const JointProblem& problem);

}  // namespace swingloss
