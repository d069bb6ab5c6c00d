// SPDX-License-Identifier: Apache-2.0
#include "view/swing_view.h"

#include <cmath>

namespace swingloss {

ViewVector vector_of(const SwingView& view) {
  ViewVector numbers;
  numbers << view.axle_px, view.tilt_x_rad, view.tilt_y_rad, std::log(view.focal_px);
  return numbers;
}

SwingView with_vector(SwingView view, const ViewVector& numbers) {
  view.axle_px = numbers.head<2>();
  view.tilt_x_rad = numbers[2];
  view.tilt_y_rad = numbers[3];
  view.focal_px = std::exp(numbers[4]);
  return view;
}

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

double SwingView::off_square_rad() const {
  return std::acos(std::cos(tilt_x_rad) * std::cos(tilt_y_rad));
}

Vector2d SwingView::readout_slope() const {
  const Vector2d size_px = 2.0 * principal_px + Vector2d::Ones();
  return size_px.y() > size_px.x() ? Vector2d(1.0 / size_px.x(), 0.0)
                                   : Vector2d(0.0, 1.0 / size_px.y());
}

Vector3d SwingView::tilted(const Vector3d& point_in_swing_px) const {
  return tilt_of(*this).turn * point_in_swing_px;
}

Vector2d SwingView::project(const Vector3d& point_in_swing_px) const {
  return see(*this, tilted(point_in_swing_px)).pixel;
}

Vector3d swing_from_body(const Vector3d& b, double theta_rad) {
  const double c = std::cos(theta_rad), s = std::sin(theta_rad);
  return {b.x() * c + b.y() * s, b.y() * c - b.x() * s, b.z()};
}

BodyProjection::BodyProjection(const SwingView& view) : view_(view) {
  const Tilt tilt = tilt_of(view);
  turn_ = tilt.turn, by_tilt_x_ = tilt.by_x, by_tilt_y_ = tilt.by_y;
}

Vector2d BodyProjection::pixel_of(const Vector3d& body, double theta_rad) const {
  return see(view_, turn_ * swing_from_body(body, theta_rad)).pixel;
}

ProjectedPoint BodyProjection::operator()(const Vector3d& body, double theta_rad) const {
  const double c = std::cos(theta_rad), s = std::sin(theta_rad);
  const Vector3d swing(body.x() * c + body.y() * s, body.y() * c - body.x() * s, body.z());
  const Vector3d tilted = turn_ * swing;
  const Seen seen = see(view_, tilted);
  const Eigen::Matrix<double, 2, 3> by_swing = seen.by_point * turn_;

  ProjectedPoint out;
  out.pixel = seen.pixel;
  out.by_view.leftCols<2>() = seen.depth_ratio * Eigen::Matrix2d::Identity();
  out.by_view.col(2) = seen.by_point * (by_tilt_x_ * swing);
  out.by_view.col(3) = seen.by_point * (by_tilt_y_ * swing);
  // d(f/(f-z))/d(log f) = -f z / (f-z)^2
  const double m = seen.depth_ratio;
  out.by_view.col(4) = (-m * m * tilted.z() / view_.focal_px) *
                       (view_.axle_px - view_.principal_px + tilted.head<2>());
  // The columns of the turn by theta.
  out.by_body.col(0) = c * by_swing.col(0) - s * by_swing.col(1);
  out.by_body.col(1) = s * by_swing.col(0) + c * by_swing.col(1);
  out.by_body.col(2) = by_swing.col(2);
  out.by_theta = swing.y() * by_swing.col(0) - swing.x() * by_swing.col(1);
  return out;
}

}  // namespace swingloss
