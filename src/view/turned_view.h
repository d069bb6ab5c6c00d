// SPDX-License-Identifier: Apache-2.0
/// \file turned_view.h
/// A view with the arm held at one angle: many body points to pixels and back.
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
class TurnedView {
 public:
  TurnedView(const SwingView& view, double theta_rad);

  [[nodiscard]] Eigen::Vector2d pixel_of(const Eigen::Vector3d& body_px) const;

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
  Eigen::Vector2d principal_px_;
  Eigen::Matrix<double, 3, 4> camera_from_body_;
  Eigen::Matrix3d flat_;
  Eigen::Vector3d by_depth_;
};

}  // namespace swingloss
