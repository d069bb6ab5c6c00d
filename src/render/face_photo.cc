// SPDX-License-Identifier: Apache-2.0
#include "render/face_photo.h"

#include "render/in_parallel.h"
#include "render/random_stream.h"

#include <cmath>

#include <opencv2/imgproc.hpp>

namespace swingloss::render {
namespace {

constexpr double kFilmDiagonal_mm = 43.2666;

/// One face ready for rays.
struct Standing {
  const PlacedFace* placed = nullptr;
  FacePicture picture;
  double cosine = 1.0, sine = 0.0;
};

struct Hit {
  Colour light;
  float share = 0.0F;
};

template <typename Value>
Value smooth_at(const cv::Mat& picture, double x, double y) {
  const int x0 = std::min(std::max(0, int(std::floor(x))), picture.cols - 2);
  const int y0 = std::min(std::max(0, int(std::floor(y))), picture.rows - 2);
  const float fx = float(std::min(1.0, std::max(0.0, x - x0)));
  const float fy = float(std::min(1.0, std::max(0.0, y - y0)));
  return picture.at<Value>(y0, x0) * ((1.0F - fx) * (1.0F - fy)) +
         picture.at<Value>(y0, x0 + 1) * (fx * (1.0F - fy)) +
         picture.at<Value>(y0 + 1, x0) * ((1.0F - fx) * fy) +
         picture.at<Value>(y0 + 1, x0 + 1) * (fx * fy);
}

/// The place where a ray meets a level, in the card's frame.
cv::Point2d meets(const Pinhole& camera, const cv::Vec3d& ray, double height_m) {
  const double along = (height_m - camera.lens_m[2]) / ray[2];
  return {camera.lens_m[0] + along * ray[0], -(camera.lens_m[1] + along * ray[1])};
}

cv::Point2d in_bar(const Standing& bar, const cv::Point2d& card_m) {
  const cv::Point2d d = card_m - bar.placed->middle_m;
  return {d.x * bar.cosine + d.y * bar.sine, -d.x * bar.sine + d.y * bar.cosine};
}

Hit hit_face(const Standing& bar, const Pinhole& camera, const cv::Vec3d& ray) {
  const FaceLook& look = bar.placed->look;
  const cv::Point2d uv = in_bar(bar, meets(camera, ray, bar.placed->height_m));
  const cv::Point2d px = bar.picture.pixel_of(uv.x, uv.y);
  Hit hit;
  if (px.x >= 0 && px.y >= 0 && px.x <= bar.picture.light.cols - 1 &&
      px.y <= bar.picture.light.rows - 1) {
    hit.share = smooth_at<float>(bar.picture.inside, px.x, px.y);
    hit.light = smooth_at<Colour>(bar.picture.light, px.x, px.y);
    if (hit.share > 0.5F) return {hit.light, 1.0F};
  }
  // A side of the bar: some level between card and face meets the ray within the section.
  constexpr int kLevels = 12;
  for (int i = 1; i < kLevels && bar.placed->height_m > 0.0; ++i) {
    const double height_m = bar.placed->height_m * (1.0 - double(i) / kLevels);
    const cv::Point2d side = in_bar(bar, meets(camera, ray, height_m));
    if (std::abs(side.x) < look.thickness_m / 2.0 && std::abs(side.y) < look.width_m / 2.0) {
      return {look.albedo * 0.35F, 1.0F};
    }
  }
  return {{}, 0.0F};
}

Colour ground_at(const FaceScene& scene, const cv::Point2d& card_m) {
  const float lit =
      scene.light.lamp * float(cv::normalize(scene.light.direction)[2]) + scene.light.sky;
  if (scene.card.empty()) return scene.table * lit;
  const double scale = scene.card_px_per_m / scene.print_ratio;
  const double x = card_m.x * scale - 0.5;
  const double y = card_m.y * scale - 0.5;
  if (x < 0 || y < 0 || x > scene.card.cols - 1 || y > scene.card.rows - 1) {
    return scene.table * lit;
  }
  const auto at = [&](int row, int column) {
    return float(scene.card.at<unsigned char>(std::min(row, scene.card.rows - 1),
                                              std::min(column, scene.card.cols - 1)));
  };
  const int x0 = int(x);
  const int y0 = int(y);
  const float fx = float(x - x0);
  const float fy = float(y - y0);
  const float white = ((1 - fy) * ((1 - fx) * at(y0, x0) + fx * at(y0, x0 + 1)) +
                       fy * ((1 - fx) * at(y0 + 1, x0) + fx * at(y0 + 1, x0 + 1))) /
                      255.0F;
  return (scene.ink * (1.0F - white) + scene.paper * white) * lit;
}

Colour light_along(const FaceScene& scene,
                   const std::vector<Standing>& bars,
                   const Pinhole& camera,
                   const cv::Vec3d& ray) {
  for (const Standing& bar : bars) {
    const Hit hit = hit_face(bar, camera, ray);
    if (hit.share > 0.0F) return hit.light;
  }
  return ground_at(scene, meets(camera, ray, 0.0));
}

float srgb_level(float linear) {
  // [IEC61966-2-1]
  const float x = std::min(1.0F, std::max(0.0F, linear));
  return 255.0F * (x <= 0.0031308F ? 12.92F * x : 1.055F * std::pow(x, 1.0F / 2.4F) - 0.055F);
}

}  // namespace

Pinhole camera_over(const FaceScene& scene) {
  Pinhole camera;
  camera.width_px = scene.width_px;
  camera.height_px = scene.height_px;
  camera.centre_px = {(scene.width_px - 1) / 2.0, (scene.height_px - 1) / 2.0};
  const double focal = scene.zoom * scene.focal_35mm / kFilmDiagonal_mm *
                       std::hypot(scene.width_px, scene.height_px);
  camera.focal_px = {focal, focal};
  camera.k1 = scene.k1;
  // Looking down: camera x is x, camera y is down the card, z into it. Room y is up the card.
  const double t = scene.tilt_rad;
  const double a = scene.tilt_toward_rad;
  const cv::Vec3d back(std::sin(t) * std::cos(a), std::sin(t) * std::sin(a), std::cos(t));
  const cv::Vec3d aim(scene.aim_m.x, -scene.aim_m.y, 0.0);
  camera.lens_m = aim + scene.distance_m * back;
  const cv::Vec3d z = -back;
  const cv::Vec3d up(std::sin(scene.roll_rad), std::cos(scene.roll_rad), 0.0);
  const cv::Vec3d x = cv::normalize(z.cross(up));
  const cv::Vec3d y = z.cross(x);
  camera.camera_from_room = cv::Matx33d(x[0], x[1], x[2], y[0], y[1], y[2], z[0], z[1], z[2]);
  return camera;
}

cv::Point2d pixel_over(const FaceScene& scene, cv::Point2d card_m, double height_m) {
  return camera_over(scene).pixel_of({card_m.x, -card_m.y, height_m});
}

namespace {

/// Light of one pixel: the mean of samples over it.
Colour light_of_pixel(const FaceScene& scene,
                      const std::vector<Standing>& bars,
                      const Pinhole& camera,
                      cv::Point pixel) {
  constexpr int kSide = 2;  // samples along either side of a pixel
  Colour sum(0.0F, 0.0F, 0.0F);
  for (int k = 0; k < kSide * kSide; ++k) {
    const cv::Point2d at(pixel.x + (k % kSide + 0.5) / kSide - 0.5,
                         pixel.y + (int(k / kSide) + 0.5) / kSide - 0.5);
    sum += light_along(scene, bars, camera, camera.ray_of(at));
  }
  return sum * (1.0F / (kSide * kSide));
}

/// What the camera stores of the light.
cv::Vec3b stored(const FaceScene& scene, const Colour& light, RandomStream& random) {
  cv::Vec3b out;
  for (int k = 0; k < 3; ++k) {
    const float level = srgb_level(light[k] * scene.exposure * scene.white_balance[k]);
    out[k] =
        cv::saturate_cast<unsigned char>(level + float(scene.noise_levels * random.normal()));
  }
  return out;
}

}  // namespace

cv::Mat photograph(const FaceScene& scene, int jobs) {
  const Pinhole camera = camera_over(scene);
  std::vector<Standing> bars;
  for (const PlacedFace& face : scene.faces) {
    FaceLight light = scene.light;  // in the bar's own axes, v down the card
    const double c = std::cos(face.turn_rad);
    const double s = std::sin(face.turn_rad);
    const cv::Vec3d d = scene.light.direction;
    light.direction = {d[0] * c + d[1] * s, -d[0] * s + d[1] * c, d[2]};
    bars.push_back({&face, picture_of(face.look, light), c, s});
  }
  cv::Mat linear(scene.height_px, scene.width_px, CV_32FC3);
  in_parallel(linear.rows, jobs, [&](int, int begin, int end) {
    for (int row = begin; row < end; ++row) {
      for (int column = 0; column < linear.cols; ++column)
        linear.at<Colour>(row, column) = light_of_pixel(scene, bars, camera, {column, row});
    }
  });
  if (scene.blur_px > 0.0) cv::GaussianBlur(linear, linear, {}, scene.blur_px);
  RandomStream random(scene.seed, 77);
  cv::Mat photo(linear.size(), CV_8UC3);
  for (int row = 0; row < linear.rows; ++row) {
    for (int column = 0; column < linear.cols; ++column) {
      photo.at<cv::Vec3b>(row, column) = stored(scene, linear.at<Colour>(row, column), random);
    }
  }
  return photo;
}

}  // namespace swingloss::render
