// SPDX-License-Identifier: Apache-2.0
/// \file frame_model.h
/// What a frame should show at a pixel, if the arm is where it is thought to be. Internal to
/// tracking.
#pragma once

#include "tracking/cell_registration.h"

#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// One pixel's composite over the turns passed during the exposure.
struct PixelModel {
  double seen_model = 0.0;  // levels
  double by_light = 0.0;    // d(level) / d(light)
  double ink = 0.0, cover = 0.0;
  Eigen::Vector2d outward = Eigen::Vector2d::Zero();  // in the picture
  Eigen::Vector2d by_shift =
      Eigen::Vector2d::Zero();  // d(model) / d(shift of the arm in the picture)
  Eigen::Vector2d body = Eigen::Vector2d::Zero();  // body place at mid-exposure
  bool valid = false;
};

/// Pixel to body axes at one turn, exact for the camera model: the homography of the plane
/// z = 0, and what a depth changes (Sherman-Morrison: depth adds one column).
class BodyFromPixel {
 public:
  BodyFromPixel(const SwingView& view, double theta_rad);

  /// \param centred  pixel from the principal point \param depth_px  z of the body there
  [[nodiscard]] Eigen::Vector2d operator()(const Eigen::Vector2d& centred,
                                           double depth_px) const;

 private:
  Eigen::Matrix3d flat_;
  Eigen::Vector3d by_depth_;
};

/// The layered picture of one frame. Keeps references to template and start.
class FrameModel {
 public:
  FrameModel(const BodyTemplate& body, const FrameStart& start, double exposure_s);

  /// \param pixel in the picture's (stabilised) coordinates \param background  there, light
  [[nodiscard]] PixelModel at(const Eigen::Vector2d& pixel, double background) const;

 private:
  const BodyTemplate& body_;
  const SwingView& view_;
  std::vector<double> cosines_, sines_;
  std::vector<BodyFromPixel> turns_;
};

}  // namespace swingloss
