// SPDX-License-Identifier: Apache-2.0
/// \file swing_view.h
/// How a fixed camera sees a body that turns about the axle.
#pragma once

#include "core/angle_track.h"

#include <Eigen/Core>

namespace swingloss {

/// Camera and axle of one clip, without any calibration. Lengths of the body are in "pixels at
/// the axle's distance": the scale of the rig cancels and only the focal length stays free.
///
/// Swing axes: x right, y down, z along the axle toward the camera, origin on the axle. A point
/// is first turned by tilt_x about the picture's vertical (the camera's yaw), then by tilt_y
/// about its horizontal (pitch), then seen in perspective from the distance focal_px:
///
///   p = principal + f ((axle - principal) + (x', y')) / (f - z')
///
/// A turn of the camera about its own line of sight is not here: it is the zero of the angle.
struct SwingView {
  Eigen::Vector2d axle_px = Eigen::Vector2d::Zero();  ///< image of the axle at z = 0
  double tilt_x_rad = 0.0;
  double tilt_y_rad = 0.0;
  double focal_px = 0.0;                                   ///< > 0
  Eigen::Vector2d principal_px = Eigen::Vector2d::Zero();  ///< taken as the picture's centre
  /// Rolling shutter: how much later the picture's last line is read than its first. Lines lie
  /// along the longer side, as on the sensor, so the picture is read along its shorter side:
  /// downward, or to the right in an upright picture; negative the other way. A frame's time
  /// and turn are those of the picture's centre.
  double readout_s = 0.0;

  /// By which part of the readout a pixel is later than the picture's centre; linear in the
  /// pixel's place, +-1/2 at the borders.
  [[nodiscard]] double part_of_readout(const Eigen::Vector2d& pixel) const {
    return readout_slope().dot(pixel - principal_px);
  }
  [[nodiscard]] Eigen::Vector2d readout_slope() const;

  /// How far off square to the swing the camera stands, both tilts together.
  [[nodiscard]] double off_square_rad() const;

  /// A point of the swing axes, turned by both tilts: in axes along the picture's.
  [[nodiscard]] Eigen::Vector3d tilted(const Eigen::Vector3d& point_in_swing_px) const;

  /// Picture of a point of the swing axes.
  [[nodiscard]] Eigen::Vector2d project(const Eigen::Vector3d& point_in_swing_px) const;
};

/// The view as numbers, and the same camera with other ones.
[[nodiscard]] ViewVector vector_of(const SwingView& view);
[[nodiscard]] SwingView with_vector(SwingView view, const ViewVector& numbers);

/// A point of the body in its own axes: where it is (in swing axes) when the arm hangs straight
/// down, so (0, R, 0) is the end of an arm of length R.
///
///   x = bx cos(theta) + by sin(theta),  y = by cos(theta) - bx sin(theta),  z = bz
[[nodiscard]] Eigen::Vector3d swing_from_body(const Eigen::Vector3d& point_in_body_px,
                                              double theta_rad);

/// Picture of a body point with its derivatives, for fits.
struct ProjectedPoint {
  Eigen::Vector2d pixel;
  Eigen::Matrix<double, 2, 5> by_view;  ///< axle x, axle y [px]; tilt x, tilt y [rad]; log f
  Eigen::Matrix<double, 2, 3> by_body;
  Eigen::Vector2d by_theta;
};

/// Pictures of body points with their derivatives, for many points of one view: the tilts'
/// turns are worked out once.
class BodyProjection {
 public:
  explicit BodyProjection(const SwingView& view);

  /// \param theta_rad turn of the body, positive toward the picture's right at the bottom
  [[nodiscard]] ProjectedPoint operator()(const Eigen::Vector3d& point_in_body_px,
                                          double theta_rad) const;
  [[nodiscard]] Eigen::Vector2d pixel_of(const Eigen::Vector3d& point_in_body_px,
                                         double theta_rad) const;

 private:
  SwingView view_;
  Eigen::Matrix3d turn_, by_tilt_x_, by_tilt_y_;
};

}  // namespace swingloss
