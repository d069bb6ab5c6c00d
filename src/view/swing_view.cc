// SPDX-License-Identifier: Apache-2.0
#include "view/swing_view.h"

#include <cmath>

namespace swingloss {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector2d;
using Eigen::Vector3d;

/// Turns about the picture's vertical and horizontal and their derivatives.
struct Tilt {
  Matrix3d turn, by_x, by_y;
};

Tilt tilt_of(const SwingView& view) {
  const double ca = std::cos(view.tilt_x_rad), sa = std::sin(view.tilt_x_rad);
  const double cb = std::cos(view.tilt_y_rad), sb = std::sin(view.tilt_y_rad);
  Matrix3d yaw, dyaw, pitch, dpitch;
  yaw << ca, 0, sa, 0, 1, 0, -sa, 0, ca;
  dyaw << -sa, 0, ca, 0, 0, 0, -ca, 0, -sa;
  pitch << 1, 0, 0, 0, cb, sb, 0, -sb, cb;
  dpitch << 0, 0, 0, 0, -sb, cb, 0, -cb, -sb;
  return {pitch * yaw, pitch * dyaw, dpitch * yaw};
}

/// Perspective of a tilted point and its derivative by that point.
struct Seen {
  Vector2d pixel;
  Eigen::Matrix<double, 2, 3> by_point;
  double depth_ratio;  // f / (f - z')
};

Seen see(const SwingView& view, const Vector3d& tilted) {
  const double m = view.focal_px / (view.focal_px - tilted.z());
  const Vector2d flat = view.axle_px - view.principal_px + tilted.head<2>();
  Seen seen;
  seen.pixel = view.principal_px + m * flat;
  seen.by_point.leftCols<2>() = m * Eigen::Matrix2d::Identity();
  seen.by_point.col(2) = m / (view.focal_px - tilted.z()) * flat;
  seen.depth_ratio = m;
  return seen;
}

}  // namespace

Vector2d SwingView::project(const Vector3d& point_in_swing_px) const {
  return see(*this, tilt_of(*this).turn * point_in_swing_px).pixel;
}

Vector3d swing_from_body(const Vector3d& b, double theta_rad) {
  const double c = std::cos(theta_rad), s = std::sin(theta_rad);
  return {b.x() * c + b.y() * s, b.y() * c - b.x() * s, b.z()};
}

ProjectedPoint project_body(const SwingView& view, const Vector3d& body, double theta_rad) {
  const double c = std::cos(theta_rad), s = std::sin(theta_rad);
  const Vector3d swing = swing_from_body(body, theta_rad);
  const Tilt tilt = tilt_of(view);
  const Vector3d tilted = tilt.turn * swing;
  const Seen seen = see(view, tilted);

  Matrix3d body_turn;
  body_turn << c, s, 0, -s, c, 0, 0, 0, 1;
  const Eigen::Matrix<double, 2, 3> by_swing = seen.by_point * tilt.turn;

  ProjectedPoint out;
  out.pixel = seen.pixel;
  out.by_view.leftCols<2>() = seen.depth_ratio * Eigen::Matrix2d::Identity();
  out.by_view.col(2) = seen.by_point * (tilt.by_x * swing);
  out.by_view.col(3) = seen.by_point * (tilt.by_y * swing);
  // d(f/(f-z))/d(log f) = -f z / (f-z)^2
  const double m = seen.depth_ratio;
  out.by_view.col(4) = (-m * m * tilted.z() / view.focal_px) *
                       (view.axle_px - view.principal_px + tilted.head<2>());
  out.by_body = by_swing * body_turn;
  out.by_theta = by_swing * Vector3d(swing.y(), -swing.x(), 0.0);
  return out;
}

}  // namespace swingloss
