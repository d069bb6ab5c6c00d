// SPDX-License-Identifier: Apache-2.0
#include "swing/decay_covariance.h"

#include "swing/joint_priors.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace swingloss {
namespace {

/// J'r over each period, whitened, a column a period.
Eigen::MatrixXd scores_of(const JointProblem& problem,
                          const JointFit& fit,
                          const JointPriors& priors,
                          double period_s) {
  JointProblem at = problem;
  const Piece piece = piece_of(problem, fit.parameters, 0);
  at.zero_rad = fit.parameters[ParameterPlaces::kZero];
  at.natural_rad_per_s = fit.parameters[ParameterPlaces::kNatural];
  at.law = SwingLaw::from(fit.parameters.segment<3>(ParameterPlaces::kLaw));
  at.pieces = {piece};
  const Predicted predicted = predict(at, start_of(at));
  const double first_s = problem.points.front().t_s;
  const double long_s = problem.points.back().t_s - first_s;
  const auto periods = static_cast<Eigen::Index>(std::max(1.0, std::floor(long_s / period_s)));
  Eigen::MatrixXd scores =
      Eigen::MatrixXd::Zero(static_cast<Eigen::Index>(priors.free.size()), periods);
  const double scale = std::max(1.0, fit.noise.scale);
  for (std::size_t i = 0; i < problem.points.size(); ++i) {
    if (!fit.used[i]) continue;
    const auto row = static_cast<Eigen::Index>(i);
    const double sigma = std::hypot(scale * problem.points[i].u_rad,
                                    fit.noise.jitter_s * fit.omega_rad_per_s[row]);
    const double part = (problem.points[i].t_s - first_s) / long_s;
    const Eigen::Index k =
        std::min(periods - 1, static_cast<Eigen::Index>(part * static_cast<double>(periods)));
    const Eigen::MatrixXd jacobian = predicted.value.jacobian(row, priors.free);
    scores.col(k) += jacobian.transpose() * (fit.residual_rad[row] / (sigma * sigma));
  }
  return scores;
}

Eigen::MatrixXd long_run(const Eigen::MatrixXd& scores, Eigen::Index lags) {
  Eigen::MatrixXd sum = scores * scores.transpose();
  for (Eigen::Index lag = 1; lag <= lags; ++lag) {
    const double weight = 1.0 - static_cast<double>(lag) / static_cast<double>(lags + 1);
    const Eigen::Index rest = scores.cols() - lag;
    const Eigen::MatrixXd cross = scores.rightCols(rest) * scores.leftCols(rest).transpose();
    sum += weight * (cross + cross.transpose());
  }
  return sum;
}

}  // namespace

void widen_by_periods(const JointProblem& problem, double period_s, JointFit& fit) {
  const JointPriors priors = priors_of(problem);
  const Eigen::MatrixXd scores = scores_of(problem, fit, priors, period_s);
  const Eigen::Index periods = scores.cols();
  const auto fitted = static_cast<Eigen::Index>(priors.free.size());
  if (periods < 10 || periods <= fitted + 2) return;
  const auto lags =
      static_cast<Eigen::Index>(std::floor(std::cbrt(static_cast<double>(periods))));
  const Eigen::MatrixXd inverse = fit.covariance(priors.free, priors.free);
  const double spent = static_cast<double>(periods) / static_cast<double>(periods - fitted);
  const Eigen::MatrixXd by_periods = spent * (inverse * long_run(scores, lags) * inverse);
  Eigen::VectorXd widen = Eigen::VectorXd::Ones(fit.parameters.size());
  for (Eigen::Index k = 0; k < fitted; ++k) {
    const Eigen::Index place = priors.free[static_cast<std::size_t>(k)];
    const double ratio = by_periods(k, k) / fit.tracking(place, place);
    widen[place] = std::sqrt(std::max(1.0, ratio));
  }
  fit.tracking = (widen.asDiagonal() * fit.tracking * widen.asDiagonal()).eval();
}

}  // namespace swingloss
