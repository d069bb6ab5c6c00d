// SPDX-License-Identifier: Apache-2.0
#include "view/turned_view.h"

#include <Eigen/LU>

namespace swingloss {

using Eigen::Vector2d;
using Eigen::Vector3d;

TurnedView::TurnedView(const SwingView& view, double theta_rad, double omega_rad_per_s)
    : principal_px_(view.principal_px),
      turn_on_per_px_(omega_rad_per_s * view.readout_s * view.readout_slope()) {
  const double f = view.focal_px;
  for (Eigen::Index axis = 0; axis < 3; ++axis) {
    const Vector3d seen = view.tilted(swing_from_body(Vector3d::Unit(axis), theta_rad));
    camera_from_body_.col(axis) << seen.x(), seen.y(), -seen.z() / f;
  }
  camera_from_body_.col(3) << view.axle_px - view.principal_px, 1.0;
  Eigen::Matrix3d of_plane;
  of_plane << camera_from_body_.leftCols<2>(), camera_from_body_.col(3);
  flat_ = of_plane.inverse();
  by_depth_ = flat_ * camera_from_body_.col(2);
}

Vector2d TurnedView::pixel_of(const Vector3d& body_px) const {
  const auto at_frame = [this](const Vector3d& body) -> Vector2d {
    const Vector3d seen = camera_from_body_.leftCols<3>() * body + camera_from_body_.col(3);
    return principal_px_ + seen.head<2>() / seen.z();
  };
  Vector2d pixel = at_frame(body_px);
  if (turn_on_per_px_.isZero(0.0)) return pixel;
  // The arm crosses few pixels while one more is read: each round leaves a twentieth at most.
  constexpr int kRounds = 3;
  for (int round = 0; round < kRounds; ++round)
    pixel = at_frame(swing_from_body(body_px, turn_on_rad(pixel)));
  return pixel;
}

}  // namespace swingloss
