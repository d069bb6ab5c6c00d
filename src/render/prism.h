// SPDX-License-Identifier: Apache-2.0
/// \file prism.h
/// The one solid of the renderer: a convex outline in the plane of swing, with depth.
#pragma once

#include <memory>
#include <vector>

#include <opencv2/core.hpp>

namespace swingloss::render {

/// Linear light, blue green red, 0 dark to 1 white.
using Colour = cv::Vec3f;

/// From the usual 8-bit values (sRGB) to linear light.
[[nodiscard]] Colour colour(int red, int green, int blue);
/// Relative brightness of a linear colour.
[[nodiscard]] float brightness(const Colour& c);

/// How a surface varies from place to place.
enum class Grain { Plain, Plaster, Wood, Tiles, Planks, Pegboard, Brushed };

struct Material {
  Colour albedo{0.5F, 0.5F, 0.5F};
  Grain grain = Grain::Plain;
  float strength = 0.0F;  ///< relative size of the variation
  float size_m = 0.05F;   ///< of tile, plank, patch or ring
  unsigned seed = 0;
};

/// Paint on the front face.
struct Decal {
  std::vector<cv::Point2d> outline_m;
  Colour albedo;
};

/// An outline extruded along z (toward the camera), in the body's own axes: x right and y up
/// while the arm hangs.
struct Prism {
  std::vector<cv::Point2d> outline_m;  ///< convex, counter-clockwise as the camera sees it
  double back_m = 0.0, front_m = 0.0;  ///< z, back < front
  Material material;
  std::vector<Decal> decals;
};

/// Where a body is: turned counter-clockwise about its origin, then moved.
struct Pose {
  double angle_rad = 0.0;
  cv::Vec3d place_m{0.0, 0.0, 0.0};
  [[nodiscard]] cv::Vec3d operator()(const cv::Point2d& own_m, double z_m) const;
};

/// One flat face in the room.
struct Face {
  std::vector<cv::Vec3d> corners_m;
  cv::Vec3d normal;
  Colour albedo;
  const Material* material = nullptr;  ///< of the prism; not for decals
  bool decal = false;
};

/// The faces of a prism that can be seen from `eye_m`, decals after the front.
[[nodiscard]] std::vector<Face> visible_faces(const Prism& prism,
                                              const Pose& pose,
                                              const cv::Vec3d& eye_m);

/// Outlines. All counter-clockwise.
[[nodiscard]] std::vector<cv::Point2d> box_outline(cv::Point2d low, cv::Point2d high);
[[nodiscard]] std::vector<cv::Point2d> round_outline(cv::Point2d centre,
                                                     double radius_m,
                                                     int corners);
/// A straight bar with round ends.
[[nodiscard]] std::vector<cv::Point2d> capsule_outline(cv::Point2d from,
                                                       cv::Point2d to,
                                                       double radius_m);
/// Smallest convex outline around points.
[[nodiscard]] std::vector<cv::Point2d> hull_of(std::vector<cv::Point2d> points);

}  // namespace swingloss::render
