// SPDX-License-Identifier: Apache-2.0
#include "render/lamp.h"

#include "core/angle.h"

#include <algorithm>
#include <cmath>

namespace swingloss::render {
namespace {

/// Bits of `i` read backwards: turns 0, 1, 2 ... into an order that covers a range evenly.
double radical_inverse(unsigned i) {
  double value = 0.0;
  for (double digit = 0.5; i > 0; i >>= 1U, digit *= 0.5) value += (i & 1U) * digit;
  return value;
}

}  // namespace

float direct_light(const Lamp& lamp, const cv::Vec3d& place_m, const cv::Vec3d& normal) {
  const cv::Vec3d to_lamp = lamp.centre_m - place_m;
  const double r2 = to_lamp.dot(to_lamp);
  const double cosine = normal.dot(to_lamp) / std::sqrt(r2);
  if (cosine <= 0.0) return 0.0F;
  return static_cast<float>(cosine * lamp.centre_m.dot(lamp.centre_m) / r2);
}

float ambient_light(const cv::Vec3d& normal) {
  return static_cast<float>(1.0 + 0.45 * normal[1]);
}

std::vector<cv::Vec3d> points_on(const Lamp& lamp, int count) {
  const cv::Vec3d axis = cv::normalize(lamp.centre_m);
  const cv::Vec3d right = cv::normalize(cv::Vec3d(0.0, 1.0, 0.0).cross(axis));
  const cv::Vec3d up = axis.cross(right);
  std::vector<cv::Vec3d> points;
  for (int i = 0; i < count; ++i) {
    const double share = radical_inverse(static_cast<unsigned>(i)) + 0.5 / count;
    const double turn = 2.0 * kPi * std::fmod(i * 0.6180339887498949, 1.0);
    const double radius = lamp.radius_m * std::sqrt(std::min(1.0, share));
    points.push_back(lamp.centre_m + radius * (std::cos(turn) * right + std::sin(turn) * up));
  }
  return points;
}

std::vector<cv::Vec3d> shadow_of(const Prism& prism,
                                 const Pose& pose,
                                 const cv::Vec3d& light_m,
                                 const Receiver& plane) {
  double back_m = prism.back_m;
  if (!plane.level) {
    const double plane_m = plane.at_m - pose.place_m[2];
    if (prism.front_m <= plane_m + 1e-9) return {};
    back_m = std::max(back_m, plane_m);
  }
  const int axis = plane.level ? 1 : 2;
  const int across = plane.level ? 2 : 1;
  std::vector<cv::Point2d> cast;
  cast.reserve(2 * prism.outline_m.size());
  cv::Point2d low(1e9, 1e9), high(-1e9, -1e9);
  for (const cv::Point2d& corner : prism.outline_m) {
    cv::Vec3d p = pose(corner, 0.0);
    for (const double z_m : {back_m, prism.front_m}) {
      p[2] = pose.place_m[2] + z_m;
      const double above = std::max(p[axis], plane.at_m);
      if (above >= light_m[axis] - 0.05) return {};
      const double reach = (light_m[axis] - plane.at_m) / (light_m[axis] - above);
      cast.emplace_back(light_m[0] + reach * (p[0] - light_m[0]),
                        light_m[across] + reach * (p[across] - light_m[across]));
      low = {std::min(low.x, cast.back().x), std::min(low.y, cast.back().y)};
      high = {std::max(high.x, cast.back().x), std::max(high.y, cast.back().y)};
    }
  }
  const bool misses = high.x < plane.low_m.x || low.x > plane.high_m.x ||
                      high.y < plane.low_m.y || low.y > plane.high_m.y;
  if (misses) return {};
  std::vector<cv::Vec3d> corners;
  for (const cv::Point2d& c : hull_of(std::move(cast))) {
    corners.push_back(plane.level ? cv::Vec3d(c.x, plane.at_m, c.y)
                                  : cv::Vec3d(c.x, c.y, plane.at_m));
  }
  return corners;
}

}  // namespace swingloss::render
