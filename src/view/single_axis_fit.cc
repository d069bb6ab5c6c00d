// SPDX-License-Identifier: Apache-2.0
#include "view/single_axis_fit.h"

#include "view/arm_plane.h"
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
  out.view.readout_s += common(kReadout);
  for (std::size_t i = 0; i < out.body_px.size(); ++i) {
    out.body_px[i] += common.segment<3>(kSharedCount + 3 * static_cast<Eigen::Index>(i));
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
  const MatrixXd even = 0.5 * (covariance + covariance.transpose());
  return even.llt().matrixL();
}

/// The directions in which all angles move together, from `moved` with moved moved' = their
/// covariance: its principal axes, tiny ones left out.
/// \return orthonormal columns E: moved E is what the angles do
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
  return eigen.eigenvectors().rightCols(kept).rowwise().reverse();
}

/// What a state is worth, and how much each sighting is believed.
struct Found {
  SingleAxisState state;
  SingleAxisScatter scatter;
};

/// Covariance of view and body, the angles taken out, and how these answer.
struct CommonDoubt {
  MatrixXd covariance;
  MatrixXd response;  ///< by how much the angles fall when view and body grow
};

CommonDoubt common_doubt(const SingleAxisNormal& n, double scale2) {
  const VectorXd inverse_angle = (n.angle.array() + 1e-9).inverse();
  CommonDoubt doubt;
  doubt.response = inverse_angle.asDiagonal() * n.mixed.transpose();
  const MatrixXd reduced = n.common - n.mixed * doubt.response;
  doubt.covariance =
      scale2 * reduced.ldlt().solve(MatrixXd::Identity(reduced.rows(), reduced.cols()));
  return doubt;
}

/// Leaves one unknown this part of its variance; what went along with it narrows too.
void narrow(Eigen::Index unknown, double left, MatrixXd& covariance) {
  const VectorXd along = covariance.col(unknown);
  covariance -= (1.0 - left) / along[unknown] * along * along.transpose();
}

void add_doubts(const CommonDoubt& doubt, const MatrixXd& view_by_common, SingleAxisFit& fit) {
  const MatrixXd root = root_of(doubt.covariance);
  MatrixXd moved = -doubt.response * root;
  moved.rowwise() -= moved.colwise().mean().eval();
  const MatrixXd directions = largest_doubts(moved);
  fit.theta_doubt_rad = moved * directions;
  fit.view_covariance = view_by_common * doubt.covariance * view_by_common.transpose();
  fit.view_doubt = view_by_common * (root * directions);
  fit.view_rest = fit.view_covariance - fit.view_doubt * fit.view_doubt.transpose();
}

SingleAxisFit answer(const SingleAxisProblem& problem,
                     const SingleAxisEquations& equations,
                     const Found& found,
                     const SingleAxisOptions& options) {
  SingleAxisFit fit;
  for (double square : equations.squares(found.state))
    fit.sighting_weight.push_back(cauchy_weight(square, found.scatter.cauchy_scale2()));
  const VectorXd shares = shares_of(problem, fit.sighting_weight);
  const SingleAxisState state = in_arm_plane(found.state, shares);
  const double scale2 = found.scatter.scale2;
  const SingleAxisNormal n = equations.normal_at(state, found.scatter);
  fit.view = found.state.view;
  fit.plane_view = state.view;
  fit.theta_rad = found.state.theta_rad;
  fit.body_px = found.state.body_px;
  fit.scatter = std::sqrt(scale2);
  for (Eigen::Index k = 0; k < n.angle.size(); ++k)
    fit.u_theta_rad.push_back(std::sqrt(scale2 / (n.angle(k) + 1e-9)));
  CommonDoubt doubt = common_doubt(n, scale2 * options.alike_count);
  narrow(kReadout, options.readout_alike_count / options.alike_count, doubt.covariance);
  fit.u_readout_s = std::sqrt(doubt.covariance(kReadout, kReadout));
  add_doubts(doubt, view_in_arm_plane(state, shares), fit);
  return fit;
}

}  // namespace

Result<SingleAxisFit> fit_single_axis(const SingleAxisProblem& problem,
                                      const SingleAxisOptions& options) {
  expects(options.focal_prior_px > 0.0, "fit_single_axis: focal_prior_px must be positive");
  expects(!problem.sightings.empty(), "fit_single_axis: no sightings");
  const SingleAxisEquations equations(problem, options);
  Found best{equations.start(), {}};
  if (!minimise(equations, options.max_iterations, best.state, best.scatter)) {
    return Failure{"view-not-solved",
                   "the points' paths do not form turns about one axle",
                   "film with the camera still and the whole swing in the picture"};
  }
  // The mirror choice of the tilt: the other one fits ellipses as well, but not the
  // perspective.
  Found other = best;
  other.state.view.tilt_x_rad *= -1.0;
  other.state.view.tilt_y_rad *= -1.0;
  if (options.try_mirror &&
      minimise(equations, options.max_iterations, other.state, other.scatter) &&
      equations.cost_at(other.state, best.scatter) <
          equations.cost_at(best.state, best.scatter))
    best = other;
  return answer(problem, equations, best, options);
}

}  // namespace swingloss
