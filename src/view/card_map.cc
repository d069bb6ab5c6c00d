// SPDX-License-Identifier: Apache-2.0
#include "view/card_view.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Geometry>
#include <Eigen/LU>

namespace swingloss {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector2d;
using Eigen::Vector3d;

/// Rotation columns and translation before the camera, K = diag(focal, focal, 1).
struct Placed {
  Vector3d r1, r2, r3, t;
};

Placed placed(const CardMap& map, double focal_ideal) {
  const Vector3d by_focal(1.0 / focal_ideal, 1.0 / focal_ideal, 1.0);
  const Matrix3d b = by_focal.asDiagonal() * map.ideal_from_plane;
  double scale = 2.0 / (b.col(0).norm() + b.col(1).norm());
  if (b(2, 2) < 0.0) scale = -scale;  // the card is before the lens
  Placed out{scale * b.col(0), scale * b.col(1), {}, scale * b.col(2)};
  out.r3 = out.r1.cross(out.r2).normalized();
  return out;
}

}  // namespace

Vector2d CardMap::pixel_of(const Vector2d& plane_m) const {
  const Vector3d h = ideal_from_plane * plane_m.homogeneous();
  const Vector2d ideal = h.head<2>() / h.z();
  return centre_px + half_diagonal_px * (1.0 + k1 * ideal.squaredNorm()) * ideal;
}

Vector2d CardMap::plane_of(const Vector2d& pixel) const {
  const Vector2d bent = (pixel - centre_px) / half_diagonal_px;
  Vector2d ideal = bent;
  // Each turn gains a factor of about 3 |k1|: twenty are far more than doubles can hold.
  for (int i = 0; i < 20; ++i) ideal = bent / (1.0 + k1 * ideal.squaredNorm());
  const Vector3d p = ideal_from_plane.inverse() * ideal.homogeneous();
  return p.head<2>() / p.z();
}

double CardMap::px_per_m(const Vector2d& plane_m) const {
  const double step_m = 1e-4;
  const Vector2d x =
      pixel_of(plane_m + Vector2d(step_m, 0.0)) - pixel_of(plane_m - Vector2d(step_m, 0.0));
  const Vector2d y =
      pixel_of(plane_m + Vector2d(0.0, step_m)) - pixel_of(plane_m - Vector2d(0.0, step_m));
  return std::sqrt(std::abs(x.x() * y.y() - x.y() * y.x())) / (2.0 * step_m);
}

CardMap CardMap::raised(double height_m, double focal_ideal) const {
  const Placed at = placed(*this, focal_ideal);
  CardMap up = *this;
  Matrix3d columns;
  columns << at.r1, at.r2, at.t - height_m * at.r3;
  up.ideal_from_plane = Vector3d(focal_ideal, focal_ideal, 1.0).asDiagonal() * columns;
  return up;
}

CardPose pose_of(const CardMap& map, const Vector2d& plane_m, double focal_ideal) {
  const Placed at = placed(map, focal_ideal);
  const Vector3d place = at.r1 * plane_m.x() + at.r2 * plane_m.y() + at.t;
  CardPose pose;
  pose.distance_m = std::abs(at.r3.dot(at.t));
  pose.foot_m = {-at.r1.dot(at.t), -at.r2.dot(at.t)};
  pose.tilt_rad = std::acos(std::min(1.0, std::abs(at.r3.dot(place)) / place.norm()));
  return pose;
}

}  // namespace swingloss
