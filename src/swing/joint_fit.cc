// SPDX-License-Identifier: Apache-2.0
#include "swing/joint_fit.h"

#include "core/median.h"
#include "metrology/correlated.h"
#include "swing/joint_priors.h"
#include "swing/joint_steps.h"
#include "swing/local_motion.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Dense>

namespace swingloss {
namespace {

/// A residual farther out than this many robust standard deviations is no noise of tracking.
constexpr double kOutlier = 5.0;

Failure failed(const std::string& cause) {
  return {"fit-failed",
          cause,
          "Look at the track drawn on the clip: is it on the arm from the release to the "
          "turning point?"};
}

Eigen::VectorXd measured_of(const JointProblem& problem) {
  Eigen::VectorXd theta(static_cast<Eigen::Index>(problem.points.size()));
  for (Eigen::Index i = 0; i < theta.size(); ++i) {
    theta[i] = problem.points[static_cast<std::size_t>(i)].theta_rad;
  }
  return theta;
}

Eigen::VectorXd u_of(const JointProblem& problem) {
  Eigen::VectorXd u(static_cast<Eigen::Index>(problem.points.size()));
  for (Eigen::Index i = 0; i < u.size(); ++i) {
    u[i] = problem.points[static_cast<std::size_t>(i)].u_rad;
  }
  return u;
}

std::vector<Eigen::Index> indices_of(const std::vector<bool>& used) {
  std::vector<Eigen::Index> rows;
  for (std::size_t i = 0; i < used.size(); ++i) {
    if (used[i]) rows.push_back(static_cast<Eigen::Index>(i));
  }
  return rows;
}

/// Standard deviation of each point by the noise found; never below what the samples claim.
Eigen::VectorXd sigma_of(const NoiseModel& noise,
                         const Eigen::VectorXd& u_rad,
                         const Eigen::VectorXd& omega_rad_per_s) {
  const double scale = std::max(1.0, noise.scale);
  return ((scale * u_rad.array()).square() +
          (noise.jitter_s * omega_rad_per_s.array()).square())
      .sqrt();
}

std::vector<bool> within(const Eigen::VectorXd& whitened) {
  std::vector<double> sizes(whitened.data(), whitened.data() + whitened.size());
  for (double& size : sizes) size = std::abs(size);
  // 1.4826 makes the median of |x| the standard deviation of normal noise.
  const double robust = 1.4826 * median_of(sizes);
  std::vector<bool> used;
  for (Eigen::Index i = 0; i < whitened.size(); ++i) {
    used.push_back(std::abs(whitened[i]) <= kOutlier * robust);
  }
  return used;
}

std::size_t changed(const std::vector<bool>& a, const std::vector<bool>& b) {
  std::size_t count = 0;
  for (std::size_t i = 0; i < a.size(); ++i) count += static_cast<std::size_t>(a[i] != b[i]);
  return count;
}

/// Neighbours in time on one piece, so that correlation can be told from them.
std::vector<bool> contiguity(const JointProblem& problem,
                             const std::vector<Eigen::Index>& rows) {
  std::vector<double> gaps;
  for (std::size_t i = 1; i < rows.size(); ++i) {
    gaps.push_back(problem.points[static_cast<std::size_t>(rows[i])].t_s -
                   problem.points[static_cast<std::size_t>(rows[i - 1])].t_s);
  }
  const double usual_s = median_of(gaps);
  std::vector<bool> contiguous;
  for (std::size_t i = 1; i < rows.size(); ++i) {
    const bool same = problem.points[static_cast<std::size_t>(rows[i])].piece ==
                      problem.points[static_cast<std::size_t>(rows[i - 1])].piece;
    contiguous.push_back(same && gaps[i - 1] < 2.6 * usual_s);
  }
  return contiguous;
}

/// Points that count, and the standard deviation of every point.
struct Weighing {
  std::vector<Eigen::Index> rows;
  Eigen::VectorXd sigma_rad;
};

Eigen::MatrixXd followed_by(const JointProblem& problem,
                            const JointPriors& priors,
                            const Weighing& weighing,
                            const Prediction& prediction) {
  const Eigen::MatrixXd whitened =
      weighing.sigma_rad(weighing.rows).cwiseInverse().asDiagonal() *
      prediction.jacobian(weighing.rows, priors.free);
  return followed_directions(whitened, priors.information(problem, prediction));
}

/// Noise, outliers and parameters, each from the others, until they agree.
struct Settled {
  Eigen::VectorXd parameters;
  Prediction prediction;
  Eigen::VectorXd residual_rad, sigma_rad;
  std::vector<bool> used;
  NoiseModel noise;
};

std::optional<Settled> settle(const JointProblem& problem, const JointPriors& priors) {
  const Eigen::VectorXd u_rad = u_of(problem);
  Settled now;
  now.used.assign(problem.points.size(), true);
  now.sigma_rad = u_rad;
  StepOptions options;
  options.huber = 2.5;
  std::optional<StepsResult> fit =
      descend(problem, priors, {start_of(problem), now.sigma_rad, now.used}, options);
  options.huber = 0.0;
  for (int round = 0; fit && round < 8; ++round) {
    const Eigen::VectorXd& omega = fit->prediction.omega_rad_per_s;
    now.parameters = fit->parameters;
    now.prediction = fit->prediction;
    now.residual_rad = measured_of(problem) - fit->prediction.theta_rad;
    const std::vector<Eigen::Index> rows = indices_of(now.used);
    const Eigen::MatrixXd followed =
        followed_by(problem, priors, {rows, now.sigma_rad}, fit->prediction);
    const NoiseModel noise =
        noise_of({now.residual_rad(rows), u_rad(rows), omega(rows), followed.squaredNorm()});
    const Eigen::VectorXd sigma = sigma_of(noise, u_rad, omega);
    const std::vector<bool> used = within(now.residual_rad.cwiseQuotient(sigma));
    const double change = (sigma - now.sigma_rad).cwiseAbs().cwiseQuotient(sigma).maxCoeff();
    const bool same =
        changed(used, now.used) <= used.size() / 500 && change < 0.01 && round > 0;
    now.noise = noise;
    if (same) return now;
    now.used = used;
    now.sigma_rad = sigma;
    fit = descend(problem, priors, {now.parameters, now.sigma_rad, now.used}, options);
  }
  if (!fit) return std::nullopt;
  now.parameters = fit->parameters;
  now.prediction = fit->prediction;
  now.residual_rad = measured_of(problem) - fit->prediction.theta_rad;
  return now;
}

/// Points count as outliers alike in every fit of the same samples, so that fits with other
/// times can be compared.
double log_likelihood_of(const Settled& s, const Eigen::VectorXd& u_rad) {
  const double scale = std::max(s.noise.scale, 1e-3);
  double sum = 0.0;
  for (Eigen::Index i = 0; i < u_rad.size(); ++i) {
    const double sigma =
        std::hypot(scale * u_rad[i], s.noise.jitter_s * s.prediction.omega_rad_per_s[i]);
    const double z = s.residual_rad[i] / sigma;
    sum -= std::log(sigma) + 0.5 * std::min(z * z, kOutlier * kOutlier);
  }
  return sum;
}

/// A covariance without the negative eigenvalues that rounding leaves.
Eigen::MatrixXd positive_part(const Eigen::MatrixXd& covariance) {
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen(
      0.5 * (covariance + covariance.transpose()));
  return eigen.eigenvectors() * eigen.eigenvalues().cwiseMax(0.0).asDiagonal() *
         eigen.eigenvectors().transpose();
}

/// Both covariances, or false when some direction is not fixed by anything.
bool set_covariances(const JointProblem& problem,
                     const JointPriors& priors,
                     const Settled& settled,
                     JointFit& fit) {
  const std::vector<Eigen::Index> rows = indices_of(settled.used);
  const Eigen::VectorXd per_sigma = settled.sigma_rad(rows).cwiseInverse();
  const Eigen::MatrixXd whitened =
      per_sigma.asDiagonal() * settled.prediction.jacobian(rows, priors.free);
  Eigen::MatrixXd information = whitened.transpose() * whitened;
  information += priors.information(problem, settled.prediction);
  const Eigen::VectorXd scale = information.diagonal().cwiseSqrt().cwiseInverse();
  if (!scale.allFinite()) return false;
  const Eigen::MatrixXd unit = scale.asDiagonal() * information * scale.asDiagonal();
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen(unit);
  if (eigen.eigenvalues().minCoeff() < 1e-12) return false;
  const Eigen::MatrixXd inverse =
      scale.asDiagonal() *
      (eigen.eigenvectors() * eigen.eigenvalues().cwiseInverse().asDiagonal() *
       eigen.eigenvectors().transpose()) *
      scale.asDiagonal();
  const std::vector<bool> contiguous = contiguity(problem, rows);
  const Eigen::MatrixXd followed =
      followed_by(problem, priors, {rows, settled.sigma_rad}, settled.prediction);
  const Memory memory =
      memory_of(settled.residual_rad(rows).cwiseProduct(per_sigma), followed, contiguous);
  const Eigen::MatrixXd middle =
      memory.variance_factor *
      (whitened.transpose() * correlated_rows(whitened, memory.rho, contiguous));
  const Eigen::MatrixXd tracking = inverse * middle * inverse;
  const Eigen::Index n = settled.parameters.size();
  fit.covariance = Eigen::MatrixXd::Zero(n, n);
  fit.tracking = Eigen::MatrixXd::Zero(n, n);
  fit.covariance(priors.free, priors.free) = inverse;
  // Rounding may leave a hair less than nothing where a prior decides alone.
  fit.tracking(priors.free, priors.free) = positive_part(tracking);
  fit.inefficiency = memory.inefficiency();
  fit.degrees_of_freedom = static_cast<double>(rows.size()) - followed.squaredNorm();
  return true;
}

}  // namespace

Result<JointFit> fit_jointly(const JointProblem& problem) {
  const JointPriors priors = priors_of(problem);
  if (problem.points.size() + problem.levels.size() < 4) {
    return failed("fewer than four samples are left to fit");
  }
  const std::optional<Settled> settled = settle(problem, priors);
  if (!settled) return failed("the fit of the pendulum's law to the track ran away");
  JointFit fit;
  fit.parameters = settled->parameters;
  fit.used = settled->used;
  fit.residual_rad = settled->residual_rad;
  fit.omega_rad_per_s = settled->prediction.omega_rad_per_s;
  fit.noise = settled->noise;
  const Eigen::VectorXd u_rad = u_of(problem);
  fit.log_likelihood = log_likelihood_of(*settled, u_rad);
  const std::vector<Eigen::Index> rows = indices_of(settled->used);
  if (rows.empty()) return failed("no sample is left to fit");
  fit.scatter_in_u = std::sqrt(fit.residual_rad(rows).cwiseQuotient(u_rad(rows)).squaredNorm() /
                               static_cast<double>(rows.size()));
  if (!set_covariances(problem, priors, *settled, fit)) {
    return failed("the samples do not tell the pendulum's constants apart");
  }
  return fit;
}

std::vector<Uncertain> JointFit::uncertain(const JointProblem& problem) const {
  const double freedom = std::max(1.0, degrees_of_freedom / inefficiency);
  const Eigen::Index n = parameters.size();
  const Eigen::Index m = n - ParameterPlaces(problem).doubts;
  const Eigen::MatrixXd head = tracking.topLeftCorner(m, m);
  std::vector<Uncertain> values =
      correlated(parameters.head(m), head, "tracking", SourceKind::Own, freedom);
  if (m < n) {
    // The doubts of the view, which only their owner looks at: what the pendulum's own
    // constants say of them, and a rest. Otherwise each would add a part to every energy.
    const Eigen::MatrixXd by =
        head.completeOrthogonalDecomposition().solve(tracking.topRightCorner(m, n - m));
    const Eigen::MatrixXd rest =
        tracking.bottomRightCorner(n - m, n - m) - by.transpose() * head * by;
    const std::vector<Uncertain> alone = correlated(Eigen::VectorXd::Zero(n - m),
                                                    positive_part(rest),
                                                    "tracking.view",
                                                    SourceKind::Own,
                                                    freedom);
    for (Eigen::Index j = 0; j < n - m; ++j) {
      Uncertain score = alone[static_cast<std::size_t>(j)];
      for (Eigen::Index i = 0; i < m; ++i)
        score = Uncertain::combine(
            parameters[m + j],
            {{1.0, &score}, {by(i, j), &values[static_cast<std::size_t>(i)]}});
      values.push_back(score);
    }
  }
  add_prior_parts(problem, covariance, values);
  return values;
}

}  // namespace swingloss
