// SPDX-License-Identifier: Apache-2.0
#include "render/face_photo.h"

#include "support/test.h"

#include <cmath>

using namespace swingloss;
using namespace swingloss::render;

namespace {

FaceLook plain_look() {
  FaceLook look;
  look.thickness_m = 4e-3;
  look.width_m = 10e-3;
  return look;
}

FaceScene small_scene() {
  FaceScene scene;
  scene.width_px = 300;
  scene.height_px = 220;
  scene.zoom = 4.0;
  scene.noise_levels = 0.0;
  scene.blur_px = 0.0;
  scene.table = {0.02F, 0.02F, 0.02F};
  scene.faces = {{plain_look(), scene.aim_m, 0.0, 0.0}};
  scene.faces.front().look.albedo = {0.7F, 0.7F, 0.7F};
  return scene;
}

}  // namespace

TEST_CASE("a face covers the area of its section", "[render][truth]") {
  FaceLook look = plain_look();
  const FacePicture face = picture_of(look, FaceLight(), 20000.0);
  // Each pixel counts by its covered share: the rectangle's area to the rounding of floats.
  const double area_m2 = cv::sum(face.inside)[0] / (20000.0 * 20000.0);
  CHECK_THAT(area_m2, test::to_truncation(4e-3 * 10e-3, 1e-4 * 4e-5));
}

TEST_CASE("drawing-in and swelling change the half thickness where they should",
          "[render][truth]") {
  FaceLook look = plain_look();
  look.contraction = 0.1;
  look.swelling = 0.2;
  const double root_m = -5e-3 + look.notch_depth_m;
  const auto far_bump = [&](double v) {
    return std::exp(-0.5 * std::pow((v - 5e-3) / 1.6e-3, 2));
  };
  const auto root_bump = [&](double v) {
    return std::exp(-0.5 * std::pow((v - root_m) / 1.6e-3, 2));
  };
  for (const double v : {root_m, 0.0, 5e-3}) {
    // The same formula in another order.
    CHECK_THAT(half_thickness_at(look, v),
               test::to_rounding(2e-3 + 2e-3 * (0.2 * far_bump(v) - 0.1 * root_bump(v)), 8));
  }
}

TEST_CASE("a photograph shows the face where pixel_over says, and the same bytes again",
          "[render]") {
  const FaceScene scene = small_scene();
  const cv::Mat photo = photograph(scene);
  const cv::Point2d inside = pixel_over(scene, scene.aim_m + cv::Point2d(1.7e-3, -4.7e-3), 0.0);
  const cv::Point2d outside =
      pixel_over(scene, scene.aim_m + cv::Point2d(2.3e-3, -4.7e-3), 0.0);
  CHECK(photo.at<cv::Vec3b>(cv::Point(inside))[1] > 90);
  CHECK(photo.at<cv::Vec3b>(cv::Point(outside))[1] < 90);
  CHECK(cv::norm(photo, photograph(scene), cv::NORM_INF) == 0.0);
}

TEST_CASE("a raised face is larger by its distance to the lens", "[render][truth]") {
  const FaceScene scene = small_scene();
  const auto width_px = [&](double height_m) {
    return pixel_over(scene, scene.aim_m + cv::Point2d(2e-3, 0.0), height_m).x -
           pixel_over(scene, scene.aim_m - cv::Point2d(2e-3, 0.0), height_m).x;
  };
  // Similar triangles; a handful of operations.
  CHECK_THAT(width_px(0.03) / width_px(0.0), test::to_rounding(0.3 / 0.27, 4096));
}

TEST_CASE("random faces of a kind tore as far as the kind says", "[render]") {
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    CHECK(random_face(FaceKind::Brittle, seed).torn < 0.15);
    CHECK(random_face(FaceKind::Ductile, seed).torn > 0.85);
    const double mixed = random_face(FaceKind::Mixed, seed).torn;
    CHECK((mixed >= 0.3 && mixed <= 0.7));
  }
}
