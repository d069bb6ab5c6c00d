// SPDX-License-Identifier: Apache-2.0
/// \file turned_view.h
/// A view of the arm in one frame: many body points to pixels and back.
#pragma once

#include "view/swing_view.h"

#include <Eigen/Core>

namespace swingloss {

/// Body axes to picture and back at one turn. The same as SwingView::project() of
/// swing_from_body(), with sines and products taken once: pictures of the arm ask for some
/// hundred thousand points of one frame.
///
/// Back is exact for the camera model: the homography of the plane z = 0, and what a depth
/// changes (Sherman-Morrison: depth adds one column).
///
/// A rolling shutter reads each pixel at its own time, when the arm has turned on: forth solves
/// for that time, back is for the frame's time, and as_read() turns the place on.
class TurnedView {
 public:
  /// \param theta_rad  at the frame's time \param omega_rad_per_s  the arm's rate then
  TurnedView(const SwingView& view, double theta_rad, double omega_rad_per_s = 0.0);

  /// Where a body point is seen when it is read.
  [[nodiscard]] Eigen::Vector2d pixel_of(const Eigen::Vector3d& body_px) const;

  /// The place on the arm that is read at a pixel, from the place that was there at the frame's
  /// time. Sines to third order: good to 1e-5 of its distance from the axle up to 0.1 rad.
  template <typename Scalar>
  [[nodiscard]] Eigen::Array<Scalar, 2, 1> as_read(const Eigen::Array<Scalar, 2, 1>& body_px,
                                                   const Eigen::Vector2d& pixel) const {
    const auto turn = static_cast<Scalar>(turn_on_rad(pixel));
    const Scalar cosine = 1 - turn * turn / 2;
    const Scalar sine = turn - turn * turn * turn / 6;
    return {body_px.x() * cosine - body_px.y() * sine,
            body_px.x() * sine + body_px.y() * cosine};
  }

  /// The body point at z = 0 seen at a pixel, in homogeneous form: its first two over its
  /// third. It grows evenly along rows and columns of pixels.
  [[nodiscard]] Eigen::Vector3d plane(const Eigen::Vector2d& pixel) const {
    const Eigen::Vector2d centred = pixel - principal_px_;
    return flat_.col(0) * centred.x() + flat_.col(1) * centred.y() + flat_.col(2);
  }
  [[nodiscard]] Eigen::Vector3d plane_per_column() const { return flat_.col(0); }
  [[nodiscard]] Eigen::Vector3d plane_per_row() const { return flat_.col(1); }
  /// What a depth takes from it: depth z / (1 + depth by_depth().z()) of this, with z its
  /// third.
  [[nodiscard]] const Eigen::Vector3d& by_depth() const { return by_depth_; }

 private:
  /// By how much the arm turns from the frame's time until a pixel is read.
  [[nodiscard]] double turn_on_rad(const Eigen::Vector2d& pixel) const {
    return turn_on_per_px_.dot(pixel - principal_px_);
  }

  Eigen::Vector2d principal_px_;
  Eigen::Vector2d turn_on_per_px_;
  Eigen::Matrix<double, 3, 4> camera_from_body_;
  Eigen::Matrix3d flat_;
  Eigen::Vector3d by_depth_;
};

}  // namespace swingloss
