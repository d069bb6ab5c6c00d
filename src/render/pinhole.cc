// SPDX-License-Identifier: Apache-2.0
#include "render/pinhole.h"

#include "core/expects.h"

#include <cmath>

namespace swingloss::render {
namespace {

cv::Matx33d rows(const cv::Vec3d& a, const cv::Vec3d& b, const cv::Vec3d& c) {
  return {a[0], a[1], a[2], b[0], b[1], b[2], c[0], c[1], c[2]};
}

}  // namespace

cv::Vec3d Pinhole::in_camera(const cv::Vec3d& room_m) const {
  return camera_from_room * (room_m - lens_m);
}

cv::Point2d Pinhole::pixel_of(const cv::Vec3d& room_m) const {
  const cv::Vec3d p = in_camera(room_m);
  const double xn = p[0] / p[2];
  const double yn = p[1] / p[2];
  const double stretch = 1.0 + k1 * (xn * xn + yn * yn);
  return {centre_px.x + focal_px.x * stretch * xn, centre_px.y + focal_px.y * stretch * yn};
}

cv::Vec3d Pinhole::ray_of(cv::Point2d pixel) const {
  const double xd = (pixel.x - centre_px.x) / focal_px.x;
  const double yd = (pixel.y - centre_px.y) / focal_px.y;
  double shrink = 1.0;  // undistorted / distorted
  if (k1 != 0.0) {
    // Newton on s (1 + k1 r^2 s^2) = 1: quadratic, and five steps do for any lens worth the
    // name.
    const double r2 = xd * xd + yd * yd;
    for (int i = 0; i < 5; ++i) {
      const double s2 = shrink * shrink;
      shrink -= (shrink * (1.0 + k1 * r2 * s2) - 1.0) / (1.0 + 3.0 * k1 * r2 * s2);
    }
  }
  return camera_from_room.t() * cv::Vec3d(xd * shrink, yd * shrink, 1.0);
}

Pinhole Pinhole::turned(const cv::Vec3d& yaw_pitch_roll_rad) const {
  const double cy = std::cos(yaw_pitch_roll_rad[0]), sy = std::sin(yaw_pitch_roll_rad[0]);
  const double cp = std::cos(yaw_pitch_roll_rad[1]), sp = std::sin(yaw_pitch_roll_rad[1]);
  const double cr = std::cos(yaw_pitch_roll_rad[2]), sr = std::sin(yaw_pitch_roll_rad[2]);
  const cv::Matx33d yaw(cy, 0, -sy, 0, 1, 0, sy, 0, cy);
  const cv::Matx33d pitch(1, 0, 0, 0, cp, sp, 0, -sp, cp);
  const cv::Matx33d roll(cr, -sr, 0, sr, cr, 0, 0, 0, 1);
  Pinhole result = *this;
  result.camera_from_room = roll * pitch * yaw * camera_from_room;
  return result;
}

Pinhole camera_of(const RenderCamera& camera) {
  expects(camera.width_px > 0 && camera.height_px > 0 && camera.width_px % 2 == 0 &&
              camera.height_px % 2 == 0,
          "RenderCamera: width and height are even");
  expects(camera.horizontal_field_deg > 0.0 && camera.horizontal_field_deg < 150.0,
          "RenderCamera: horizontal_field_deg is in (0, 150)");
  expects(camera.distance_m > 0.3, "RenderCamera: distance_m is above 0.3");
  expects(camera.pixel_aspect_ratio > 0.0, "RenderCamera: pixel_aspect_ratio is positive");
  const double yaw = Angle::from_deg(camera.yaw_deg).rad();
  const double pitch = Angle::from_deg(camera.pitch_deg).rad();
  const double roll = Angle::from_deg(camera.roll_deg).rad();
  const double half_field = Angle::from_deg(0.5 * camera.horizontal_field_deg).rad();

  const cv::Vec3d toward_camera(
      std::sin(yaw) * std::cos(pitch), std::sin(pitch), std::cos(yaw) * std::cos(pitch));
  const cv::Vec3d forward = -toward_camera;
  const cv::Vec3d right = cv::normalize(forward.cross(cv::Vec3d(0.0, 1.0, 0.0)));
  const cv::Vec3d up = right.cross(forward);

  Pinhole result;
  result.width_px = camera.width_px;
  result.height_px = camera.height_px;
  result.centre_px = {0.5 * (camera.width_px - 1), 0.5 * (camera.height_px - 1)};
  const double focal_px =
      0.5 * camera.width_px * camera.pixel_aspect_ratio / std::tan(half_field);
  result.focal_px = {focal_px / camera.pixel_aspect_ratio, focal_px};
  result.k1 = camera.lens_k1;
  result.lens_m =
      cv::Vec3d(camera.aim_x_m, camera.aim_y_m, 0.0) + camera.distance_m * toward_camera;
  result.camera_from_room = rows(right, -up, forward);
  return result.turned({0.0, 0.0, roll});
}

}  // namespace swingloss::render
