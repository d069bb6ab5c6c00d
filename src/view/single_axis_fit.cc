// SPDX-License-Identifier: Apache-2.0
#include "view/single_axis_fit.h"

#include "view/single_axis_equations.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>

namespace swingloss {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

SingleAxisState stepped(const SingleAxisState& state,
                        const VectorXd& common,
                        const VectorXd& angle) {
  SingleAxisState out = state;
  out.view.axle_px += common.head<2>();
  out.view.tilt_x_rad += common(2);
  out.view.tilt_y_rad += common(3);
  out.view.focal_px *= std::exp(std::clamp(common(4), -0.5, 0.5));
  for (std::size_t i = 0; i < out.body_px.size(); ++i) {
    out.body_px[i] += common.segment<3>(kViewCount + 3 * static_cast<Eigen::Index>(i));
  }
  for (std::size_t k = 0; k < out.theta_rad.size(); ++k) {
    out.theta_rad[k] += angle(static_cast<Eigen::Index>(k));
  }
  return out;
}

/// The state after one damped step from the normal equations, nothing when they break down.
std::optional<SingleAxisState> damped_step(const SingleAxisNormal& n,
                                           const SingleAxisState& state,
                                           double damping) {
  const VectorXd inverse_angle = (n.angle.array() + 1e-9).inverse();
  MatrixXd reduced = n.common - n.mixed * inverse_angle.asDiagonal() * n.mixed.transpose();
  reduced.diagonal() += damping * n.common.diagonal();
  const VectorXd rhs = n.common_rhs - n.mixed * (inverse_angle.asDiagonal() * n.angle_rhs);
  const VectorXd common = reduced.ldlt().solve(rhs);
  if (!common.allFinite()) return std::nullopt;
  const VectorXd angle =
      inverse_angle.asDiagonal() * (n.angle_rhs - n.mixed.transpose() * common);
  return stepped(state, common, angle);
}

/// What is believed of the sightings at a state.
using ScatterAt = SingleAxisScatter (SingleAxisEquations::*)(const SingleAxisState&) const;

/// Levenberg's damping on the reduced system; the angles follow from the view and the body.
/// \return false when the normal equations break down
bool descend(const SingleAxisEquations& equations,
             ScatterAt scatter_at,
             int max_iterations,
             SingleAxisState& state) {
  double damping = 1e-6;
  for (int iteration = 0; iteration < max_iterations; ++iteration) {
    const SingleAxisScatter scatter = (equations.*scatter_at)(state);
    const SingleAxisNormal n = equations.normal_at(state, scatter);
    bool better = false;
    double relative = 0.0;
    for (int attempt = 0; attempt < 8 && !better; ++attempt) {
      const std::optional<SingleAxisState> next = damped_step(n, state, damping);
      if (!next) return false;
      const double cost = equations.cost_at(*next, scatter);
      better = cost < n.cost;
      damping = better ? std::max(1e-9, damping * 0.2) : damping * 10.0;
      if (!better) continue;
      relative = (n.cost - cost) / std::max(n.cost, 1e-30);
      state = *next;
    }
    if (!better || relative < 1e-9) break;
  }
  return true;
}

/// A few steps trust all sightings, so that the start does not decide which of them are
/// believed.
bool minimise(const SingleAxisEquations& equations,
              int max_iterations,
              SingleAxisState& state,
              SingleAxisScatter& scatter) {
  constexpr int kTrustingSteps = 4;
  if (!descend(equations, &SingleAxisEquations::trusting_scatter_at, kTrustingSteps, state) ||
      !descend(equations, &SingleAxisEquations::scatter_at, max_iterations, state))
    return false;
  scatter = equations.scatter_at(state);
  return true;
}

/// S with S S' = covariance.
MatrixXd root_of(const MatrixXd& covariance) {
  return 0.5 * (covariance + covariance.transpose())
                   .selfadjointView<Eigen::Lower>()
                   .llt()
                   .matrixL()
                   .toDenseMatrix();
}

/// The directions in which all angles move together, from `moved` with moved moved' = their
/// covariance: its principal axes, tiny ones left out.
MatrixXd largest_doubts(const MatrixXd& moved) {
  // Through the small side: a long clip has many more frames than unknowns in common.
  const Eigen::SelfAdjointEigenSolver<MatrixXd> eigen(moved.transpose() * moved);
  const double total = std::max(0.0, eigen.eigenvalues().sum());
  const Eigen::Index count = eigen.eigenvalues().size();
  Eigen::Index kept = 0;
  double rest = total;
  while (kept < count && kept < 12 && rest > 1e-4 * total) {
    rest -= eigen.eigenvalues()(count - 1 - kept);
    ++kept;
  }
  return moved * eigen.eigenvectors().rightCols(kept).rowwise().reverse();
}

SingleAxisFit answer(const SingleAxisEquations& equations,
                     const SingleAxisState& state,
                     const SingleAxisScatter& scatter,
                     double alike_count) {
  const double scale2 = scatter.scale2;
  const SingleAxisNormal n = equations.normal_at(state, scatter);
  const VectorXd inverse_angle = (n.angle.array() + 1e-9).inverse();
  const MatrixXd response = inverse_angle.asDiagonal() * n.mixed.transpose();
  const MatrixXd reduced = n.common - n.mixed * response;
  const MatrixXd covariance =
      scale2 * alike_count *
      reduced.ldlt().solve(MatrixXd::Identity(reduced.rows(), reduced.cols()));

  SingleAxisFit fit;
  fit.view = state.view;
  fit.theta_rad = state.theta_rad;
  fit.body_px = state.body_px;
  fit.scatter = std::sqrt(scale2);
  fit.view_covariance = covariance.topLeftCorner<kViewCount, kViewCount>();
  for (Eigen::Index k = 0; k < n.angle.size(); ++k) {
    fit.u_theta_rad.push_back(std::sqrt(scale2 * inverse_angle(k)));
  }
  for (double square : equations.squares(state))
    fit.sighting_weight.push_back(cauchy_weight(square, scatter.cauchy_scale2()));

  fit.theta_doubt_rad = largest_doubts(response * root_of(covariance));
  return fit;
}

}  // namespace

Result<SingleAxisFit> fit_single_axis(const SingleAxisProblem& problem,
                                      const SingleAxisOptions& options) {
  expects(options.focal_prior_px > 0.0, "fit_single_axis: focal_prior_px must be positive");
  expects(!problem.sightings.empty(), "fit_single_axis: no sightings");
  const SingleAxisEquations equations(problem, options);
  SingleAxisState best = equations.start();
  SingleAxisScatter scatter;
  if (!minimise(equations, options.max_iterations, best, scatter)) {
    return Failure{"view-not-solved",
                   "the points' paths do not form turns about one axle",
                   "film with the camera still and the whole swing in the picture"};
  }
  // The mirror choice of the tilt: the other one fits ellipses as well, but not the
  // perspective.
  if (!options.try_mirror) return answer(equations, best, scatter, options.alike_count);
  SingleAxisState other = best;
  other.view.tilt_x_rad *= -1.0;
  other.view.tilt_y_rad *= -1.0;
  SingleAxisScatter other_scatter;
  if (minimise(equations, options.max_iterations, other, other_scatter) &&
      equations.cost_at(other, scatter) < equations.cost_at(best, scatter)) {
    best = other;
    scatter = other_scatter;
  }
  return answer(equations, best, scatter, options.alike_count);
}

}  // namespace swingloss
