// SPDX-License-Identifier: Apache-2.0
/// \file joint_steps.h
/// The descent inside a joint fit.
#pragma once

#include "swing/joint_priors.h"

#include <optional>
#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// Where to start, how much each point counts.
struct StepsStart {
  Eigen::VectorXd parameters;
  Eigen::VectorXd sigma_rad;  ///< standard deviation of each point, > 0
  std::vector<bool> used;
};

struct StepOptions {
  double huber = 0.0;  ///< residuals beyond so many sigma count linearly; 0: none do
  int most = 60;       ///< steps
};

struct StepsResult {
  Eigen::VectorXd parameters;
  Prediction prediction;
  bool converged = false;  ///< the step still to be made is below 1e-3 standard uncertainties
};

/// Levenberg-Marquardt [Marquardt1963] with the loss terms kept from going below zero: one that
/// is there and pushed further is held.
/// \return nothing when the start is undefined or nothing improves it while far from a minimum
[[nodiscard]] std::optional<StepsResult> descend(const JointProblem& problem,
                                                 const JointPriors& priors,
                                                 const StepsStart& start,
                                                 const StepOptions& options);

}  // namespace swingloss
