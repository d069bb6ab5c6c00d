// SPDX-License-Identifier: Apache-2.0
#include "view/arm_plane.h"

namespace swingloss {
namespace {

double mean_depth_px(const SingleAxisState& state, const Eigen::VectorXd& shares) {
  double depth_px = 0.0;
  for (std::size_t i = 0; i < state.body_px.size(); ++i)
    depth_px += shares[static_cast<Eigen::Index>(i)] * state.body_px[i].z();
  return depth_px;
}

}  // namespace

Eigen::VectorXd shares_of(const SingleAxisProblem& problem,
                          const std::vector<double>& sighting_weight) {
  Eigen::VectorXd shares =
      Eigen::VectorXd::Zero(static_cast<Eigen::Index>(problem.body_px.size()));
  for (std::size_t k = 0; k < problem.sightings.size(); ++k) {
    const PointSighting& sighting = problem.sightings[k];
    const double radius_px =
        problem.body_px[static_cast<std::size_t>(sighting.point)].head<2>().norm();
    shares[sighting.point] += sighting_weight[k] * sighting.information.trace() * radius_px;
  }
  return shares / shares.sum();
}

SingleAxisState in_arm_plane(SingleAxisState state, const Eigen::VectorXd& shares) {
  const double depth_px = mean_depth_px(state, shares);
  const Eigen::Vector3d shift = state.view.tilted({0.0, 0.0, depth_px});
  const double growth = state.view.focal_px / (state.view.focal_px - shift.z());
  state.view.axle_px = state.view.project({0.0, 0.0, depth_px});
  for (Eigen::Vector3d& point : state.body_px)
    point = growth * (point - Eigen::Vector3d(0.0, 0.0, depth_px));
  return state;
}

Eigen::MatrixXd view_in_arm_plane(const SingleAxisState& state, const Eigen::VectorXd& shares) {
  Eigen::MatrixXd by = Eigen::MatrixXd::Zero(kViewCount, kSharedCount + 3 * shares.size());
  by.leftCols<kViewCount>().setIdentity();
  // d/dz of the image of (0, 0, z) at z = 0.
  const Eigen::Vector3d along = state.view.tilted({0.0, 0.0, 1.0});
  const Eigen::Vector2d slope =
      along.head<2>() +
      (along.z() / state.view.focal_px) * (state.view.axle_px - state.view.principal_px);
  for (Eigen::Index i = 0; i < shares.size(); ++i)
    by.block<2, 1>(0, kSharedCount + 3 * i + 2) = shares[i] * slope;
  return by;
}

}  // namespace swingloss
