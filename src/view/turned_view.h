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

  /// The body point seen at a pixel. \param depth_px  its z
  [[nodiscard]] Eigen::Vector2d body_of(const Eigen::Vector2d& pixel, double depth_px) const {
    Eigen::Vector3d place = plane(pixel);
    place -= by_depth_ * (depth_px * place.z() / (1.0 + depth_px * by_depth_.z()));
    return place.head<2>() / place.z();
  }

  /// The plane z = 0 in homogeneous form: body_of(pixel, 0) is plane() (x, y, 1), its first two
  /// over its third. Along a row of pixels it grows evenly.
  [[nodiscard]] Eigen::Vector3d plane(const Eigen::Vector2d& pixel) const {
    const Eigen::Vector2d centred = pixel - principal_px_;
    return flat_.col(0) * centred.x() + flat_.col(1) * centred.y() + flat_.col(2);
  }
  [[nodiscard]] Eigen::Vector3d plane_per_column() const { return flat_.col(0); }

 private:
  Eigen::Vector2d principal_px_;
  Eigen::Matrix<double, 3, 4> camera_from_body_;
  Eigen::Matrix3d flat_;
  Eigen::Vector3d by_depth_;
};

}  // namespace swingloss
