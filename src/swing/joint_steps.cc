// SPDX-License-Identifier: Apache-2.0
#include "swing/joint_steps.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Dense>

namespace swingloss {
namespace {

/// Quadratic model of the cost about a point, for the free parameters.
struct Slope {
  Eigen::MatrixXd information;
  Eigen::VectorXd direction;  ///< minus the gradient
};

class Descent {
 public:
  Descent(const JointProblem& problem,
          const JointPriors& priors,
          const StepsStart& start,
          const StepOptions& options)
      : problem_(problem), priors_(priors), start_(start), options_(options) {}

  [[nodiscard]] double cost(const Eigen::VectorXd& x, const Prediction& prediction) const {
    double sum = priors_.cost(problem_, prediction, x);
    for (std::size_t i = 0; i < start_.used.size(); ++i) {
      if (!start_.used[i]) continue;
      const double z = std::abs(whitened(i, prediction));
      const bool far = options_.huber > 0.0 && z > options_.huber;
      sum += far ? options_.huber * (z - 0.5 * options_.huber) : 0.5 * z * z;
    }
    return sum;
  }

  [[nodiscard]] Slope slope(const Eigen::VectorXd& x, const Prediction& prediction) const {
    const Eigen::MatrixXd jacobian = prediction.jacobian(Eigen::all, priors_.free);
    Eigen::VectorXd weight = Eigen::VectorXd::Zero(jacobian.rows());
    Eigen::VectorXd residual = Eigen::VectorXd::Zero(jacobian.rows());
    for (std::size_t i = 0; i < start_.used.size(); ++i) {
      if (!start_.used[i]) continue;
      const auto row = static_cast<Eigen::Index>(i);
      const double z = whitened(i, prediction);
      const bool far = options_.huber > 0.0 && std::abs(z) > options_.huber;
      weight[row] =
          (far ? options_.huber / std::abs(z) : 1.0) * std::pow(start_.sigma_rad[row], -2);
      residual[row] = z * start_.sigma_rad[row];
    }
    Slope s;
    s.information = jacobian.transpose() * weight.asDiagonal() * jacobian +
                    priors_.information(problem_, prediction);
    s.direction = jacobian.transpose() * weight.cwiseProduct(residual) +
                  priors_.pull(problem_, prediction, x);
    hold_at_bounds(x, s);
    return s;
  }

  /// The damped step, loss terms cut off at zero.
  [[nodiscard]] Eigen::VectorXd stepped(const Eigen::VectorXd& x,
                                        const Slope& s,
                                        double damping) const {
    Eigen::MatrixXd damped = s.information;
    damped.diagonal() *= 1.0 + damping;
    const Eigen::VectorXd scale = damped.diagonal().cwiseSqrt().cwiseInverse();
    const Eigen::MatrixXd unit = scale.asDiagonal() * damped * scale.asDiagonal();
    const Eigen::VectorXd step =
        scale.cwiseProduct(unit.ldlt().solve(scale.cwiseProduct(s.direction)));
    Eigen::VectorXd next = x;
    next(priors_.free) += step;
    next.segment<3>(ParameterPlaces::kLaw) =
        next.segment<3>(ParameterPlaces::kLaw).cwiseMax(0.0);
    return next;
  }

  /// Length of a step in standard uncertainties.
  [[nodiscard]] double length(const Eigen::VectorXd& from,
                              const Eigen::VectorXd& to,
                              const Slope& s) const {
    const Eigen::VectorXd step = (to - from)(priors_.free);
    return std::sqrt(std::max(0.0, step.dot(s.information * step)));
  }

 private:
  [[nodiscard]] double whitened(std::size_t i, const Prediction& prediction) const {
    const auto row = static_cast<Eigen::Index>(i);
    return (problem_.points[i].theta_rad - prediction.theta_rad[row]) / start_.sigma_rad[row];
  }

  void hold_at_bounds(const Eigen::VectorXd& x, Slope& s) const {
    for (std::size_t k = 0; k < priors_.free.size(); ++k) {
      const Eigen::Index place = priors_.free[k];
      const bool loss = place >= ParameterPlaces::kLaw && place < ParameterPlaces::kLaw + 3;
      const auto at = static_cast<Eigen::Index>(k);
      if (!loss || x[place] > 0.0 || s.direction[at] > 0.0) continue;
      const double diagonal = s.information(at, at);
      s.information.row(at).setZero();
      s.information.col(at).setZero();
      s.information(at, at) = diagonal;
      s.direction[at] = 0.0;
    }
  }

  const JointProblem& problem_;
  const JointPriors& priors_;
  const StepsStart& start_;
  const StepOptions& options_;
};

}  // namespace

std::optional<StepsResult> descend(const JointProblem& problem,
                                   const JointPriors& priors,
                                   const StepsStart& start,
                                   const StepOptions& options) {
  const Descent descent(problem, priors, start, options);
  Predicted now = predict(problem, start.parameters);
  if (!now.defined) return std::nullopt;
  Eigen::VectorXd x = start.parameters;
  double cost = descent.cost(x, now.value);
  double damping = 1e-3;
  for (int i = 0; i < options.most; ++i) {
    const Slope s = descent.slope(x, now.value);
    bool better = false;
    double length = 0.0;
    double next_cost = 0.0;
    Eigen::VectorXd next;
    Predicted there;
    for (int attempt = 0; attempt < 20 && !better; ++attempt) {
      next = descent.stepped(x, s, damping);
      length = descent.length(x, next, s);
      there = predict(problem, next);
      next_cost = there.defined ? descent.cost(next, there.value) : 1e300;
      better = next_cost <= cost;
      damping = better ? std::max(1e-9, 0.1 * damping) : std::min(1e12, 8.0 * damping);
      if (length < 1e-6) break;
    }
    if (better) {
      x = next;
      cost = next_cost;
      now = std::move(there);
    }
    if (length < 1e-3) return StepsResult{x, now.value, true};
    if (!better) return std::nullopt;
  }
  return StepsResult{x, now.value, false};
}

}  // namespace swingloss
