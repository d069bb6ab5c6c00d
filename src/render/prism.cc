// SPDX-License-Identifier: Apache-2.0
#include "render/prism.h"

#include "core/angle.h"

#include <algorithm>
#include <cmath>

namespace swingloss::render {
namespace {

float linear_from_srgb(int level) {
  const double v = level / 255.0;
  return static_cast<float>(v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4));
}

double cross(cv::Point2d o, cv::Point2d a, cv::Point2d b) {
  return (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x);
}

Face front_face(const std::vector<cv::Point2d>& outline_m, const Pose& pose, double z_m) {
  Face face;
  face.normal = {0.0, 0.0, 1.0};
  face.corners_m.reserve(outline_m.size());
  for (const cv::Point2d& corner : outline_m) face.corners_m.push_back(pose(corner, z_m));
  return face;
}

}  // namespace

Colour colour(int red, int green, int blue) {
  return {linear_from_srgb(blue), linear_from_srgb(green), linear_from_srgb(red)};
}

float brightness(const Colour& c) { return 0.0722F * c[0] + 0.7152F * c[1] + 0.2126F * c[2]; }

cv::Vec3d Pose::operator()(const cv::Point2d& own_m, double z_m) const {
  const double c = std::cos(angle_rad);
  const double s = std::sin(angle_rad);
  return {place_m[0] + c * own_m.x - s * own_m.y,
          place_m[1] + s * own_m.x + c * own_m.y,
          place_m[2] + z_m};
}

std::vector<Face> visible_faces(const Prism& prism, const Pose& pose, const cv::Vec3d& eye_m) {
  std::vector<Face> faces;
  const std::size_t n = prism.outline_m.size();
  for (std::size_t i = 0; i < n; ++i) {
    const cv::Point2d& a = prism.outline_m[i];
    const cv::Point2d& b = prism.outline_m[(i + 1) % n];
    const cv::Vec3d corner = pose(a, prism.front_m);
    const cv::Vec3d along = pose(b, prism.front_m) - corner;
    const cv::Vec3d normal = cv::normalize(cv::Vec3d(along[1], -along[0], 0.0));
    if (normal.dot(eye_m - corner) <= 0.0) continue;
    faces.push_back({{pose(a, prism.back_m), pose(b, prism.back_m), corner + along, corner},
                     normal,
                     prism.material.albedo,
                     &prism.material,
                     false});
  }
  if (eye_m[2] <= prism.front_m + pose.place_m[2]) return faces;
  Face front = front_face(prism.outline_m, pose, prism.front_m);
  front.albedo = prism.material.albedo;
  front.material = &prism.material;
  faces.push_back(std::move(front));
  for (const Decal& decal : prism.decals) {
    Face paint = front_face(decal.outline_m, pose, prism.front_m);
    paint.albedo = decal.albedo;
    paint.decal = true;
    faces.push_back(std::move(paint));
  }
  return faces;
}

std::vector<cv::Point2d> box_outline(cv::Point2d low, cv::Point2d high) {
  return {low, {high.x, low.y}, high, {low.x, high.y}};
}

std::vector<cv::Point2d> round_outline(cv::Point2d centre, double radius_m, int corners) {
  std::vector<cv::Point2d> outline;
  for (int i = 0; i < corners; ++i) {
    const double turn = 2.0 * kPi * (i + 0.5) / corners;
    outline.emplace_back(centre.x + radius_m * std::cos(turn),
                         centre.y + radius_m * std::sin(turn));
  }
  return outline;
}

std::vector<cv::Point2d> capsule_outline(cv::Point2d from, cv::Point2d to, double radius_m) {
  std::vector<cv::Point2d> points = round_outline(from, radius_m, 14);
  const std::vector<cv::Point2d> far = round_outline(to, radius_m, 14);
  points.insert(points.end(), far.begin(), far.end());
  return hull_of(std::move(points));
}

std::vector<cv::Point2d> hull_of(std::vector<cv::Point2d> points) {
  std::sort(points.begin(), points.end(), [](const cv::Point2d& a, const cv::Point2d& b) {
    return a.x < b.x || (a.x == b.x && a.y < b.y);
  });
  if (points.size() < 3) return points;
  // Lower chain left to right, then upper chain back (the monotone chain method).
  std::vector<cv::Point2d> hull;
  const auto add = [&hull](const cv::Point2d& p, std::size_t keep) {
    while (hull.size() > keep && cross(hull[hull.size() - 2], hull.back(), p) <= 0.0) {
      hull.pop_back();
    }
    hull.push_back(p);
  };
  for (const cv::Point2d& p : points) add(p, 1);
  const std::size_t lower = hull.size();
  for (auto p = points.rbegin() + 1; p != points.rend(); ++p) add(*p, lower);
  hull.pop_back();
  return hull;
}

}  // namespace swingloss::render
