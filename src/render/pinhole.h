// SPDX-License-Identifier: Apache-2.0
/// \file pinhole.h
/// The camera: from points of the room to pixels and back.
#pragma once

#include "render/render_swing.h"

#include <opencv2/core.hpp>

namespace swingloss::render {

/// A perspective camera with one radial lens term.
///
/// Camera axes: x right, y down, z forward, origin at the lens. (0,0) is the centre of the
/// top-left pixel. With xn = x/z, yn = y/z, s = 1 + k1 (xn^2 + yn^2):
///
///   column = centre.x + focal.x s xn,   row = centre.y + focal.y s yn
struct Pinhole {
  cv::Matx33d camera_from_room = cv::Matx33d::eye();  ///< rotation
  cv::Vec3d lens_m{0.0, 0.0, 0.0};                    ///< place of the lens in the room
  cv::Point2d focal_px{1000.0, 1000.0}, centre_px{0.0, 0.0};
  double k1 = 0.0;
  int width_px = 0, height_px = 0;

  [[nodiscard]] cv::Vec3d in_camera(const cv::Vec3d& room_m) const;
  /// Precondition: the point is in front of the lens.
  [[nodiscard]] cv::Point2d pixel_of(const cv::Vec3d& room_m) const;
  /// Direction in the room of the ray through a pixel, 1 along the line of sight.
  [[nodiscard]] cv::Vec3d ray_of(cv::Point2d pixel) const;
  /// The same camera turned about its own axes [rad]: yaw to the right, pitch up, roll as in
  /// RenderCamera.
  [[nodiscard]] Pinhole turned(const cv::Vec3d& yaw_pitch_roll_rad) const;
};

/// The camera of a scene. Room axes: those of the plane of swing, z toward the camera.
/// \throws std::logic_error for sizes or angles out of range
[[nodiscard]] Pinhole camera_of(const RenderCamera& camera);

}  // namespace swingloss::render
