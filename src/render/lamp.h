// SPDX-License-Identifier: Apache-2.0
/// \file lamp.h
/// Light: one lamp of finite size, and what the room throws back.
#pragma once

#include "render/pinhole.h"
#include "render/prism.h"

#include <vector>

namespace swingloss::render {

/// A round lamp above and in front of everything that casts a shadow, facing the axle.
struct Lamp {
  cv::Vec3d centre_m{0.5, 1.1, 1.5};
  double radius_m = 0.06;
  Colour power{
      0.7F, 0.7F, 0.7F};  ///< light on a white face square to it at the axle's distance
  Colour sky{0.25F, 0.25F, 0.25F};  ///< light from all round on a white upright face
};

/// Light of the lamp on a face, as a factor of Lamp::power: cosine and inverse square.
[[nodiscard]] float direct_light(const Lamp& lamp,
                                 const cv::Vec3d& place_m,
                                 const cv::Vec3d& normal);

/// The rest, as a factor of Lamp::sky: more from above than from below.
[[nodiscard]] float ambient_light(const cv::Vec3d& normal);

/// Points spread evenly over the lamp's disc, in an order whose every stretch is spread too.
[[nodiscard]] std::vector<cv::Vec3d> points_on(const Lamp& lamp, int count);

/// Faces that shadows fall on, all in one plane: z (or y) equal to `at_m`.
struct Receiver {
  bool level = false;  ///< false: faces the camera (z = at_m); true: faces up (y = at_m)
  double at_m = 0.0;
  /// Rectangle in the plane around the faces: x and y, or x and z where level.
  cv::Point2d low_m{1e9, 1e9}, high_m{-1e9, -1e9};
};

/// Corners in the room of the shadow of a body on a plane, light from one point; empty when the
/// body is behind the plane or its shadow misses the faces. Convex.
[[nodiscard]] std::vector<cv::Vec3d> shadow_of(const Prism& prism,
                                               const Pose& pose,
                                               const cv::Vec3d& light_m,
                                               const Receiver& plane);

}  // namespace swingloss::render
