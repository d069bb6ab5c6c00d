// SPDX-License-Identifier: Apache-2.0
/// \file joint_priors.h
/// What a joint fit knows apart from the samples, and under which names it answers for it.
#pragma once

#include "swing/joint_model.h"

#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// Priors of a problem, and which of its parameters are free.
struct JointPriors {
  std::vector<Eigen::Index> free;  ///< places of the parameters that are fitted
  Eigen::VectorXd mean;            ///< of all parameters; 0 where there is no prior
  Eigen::MatrixXd precision;       ///< inverse covariance of the priors, all parameters

  /// Levels and priors in J'J, for the free parameters.
  [[nodiscard]] Eigen::MatrixXd information(const JointProblem& problem,
                                            const Prediction& prediction) const;
  /// Descent direction -gradient of their half sum of squares, for the free parameters.
  [[nodiscard]] Eigen::VectorXd pull(const JointProblem& problem,
                                     const Prediction& prediction,
                                     const Eigen::VectorXd& parameters) const;
  /// Half their sum of squares.
  [[nodiscard]] double cost(const JointProblem& problem,
                            const Prediction& prediction,
                            const Eigen::VectorXd& parameters) const;
};

[[nodiscard]] JointPriors priors_of(const JointProblem& problem);

/// Adds to each parameter its contributions from levels, doubts, losses and w0 as known before.
void add_prior_parts(const JointProblem& problem,
                     const Eigen::MatrixXd& covariance,
                     std::vector<Uncertain>& values);

}  // namespace swingloss
