// SPDX-License-Identifier: Apache-2.0
#include "surface/layer_course.h"

#include "support/test.h"
#include "surface/appearance.h"
#include "surface/face_photos.h"
#include "surface/measure_surface.h"

#include <cmath>

#include <opencv2/imgproc.hpp>

using namespace swingloss;
using namespace swingloss::render;

namespace {

FaceMeasures face_with(double strength, double angle_rad, std::optional<double> pitch_m) {
  FaceMeasures face;
  face.notch_found = true;
  face.appearance.line_strength = strength;
  face.appearance.line_angle_rad = angle_rad;
  face.appearance.line_pitch_m = pitch_m;
  return face;
}

constexpr double kSquare = 1.57;

}  // namespace

TEST_CASE("lines and orientation together say how the crack met the layers", "[surface]") {
  struct Case {
    double strength, angle_rad;
    std::optional<double> pitch_m;
    const char* orientation;
    CrackCourse course;
    bool sure;
  };
  const CrackCourse across = CrackCourse::AcrossLayers;
  const CrackCourse between = CrackCourse::BetweenLayers;
  const CrackCourse silent = CrackCourse::CannotTell;
  for (const Case& c : {Case{0.5, 0.05, 0.2e-3, "flat", across, true},
                        Case{0.5, 0.05, 0.2e-3, "", across, false},
                        Case{0.5, 0.05, 0.2e-3, "on-edge", silent, false},
                        Case{0.5, kSquare, 0.2e-3, "on-edge", across, true},
                        Case{0.5, kSquare, 0.2e-3, "flat", silent, false},
                        Case{0.5, kSquare, {}, "", across, false},
                        Case{0.5, 0.8, 0.2e-3, "flat", silent, false},
                        Case{0.1, 0.0, 0.2e-3, "flat", silent, false},
                        Case{0.1, 0.0, {}, "upright", between, false},
                        Case{0.5, 0.8, 0.45e-3, "upright", between, true},
                        Case{0.5, 0.8, {}, "upright", between, false},
                        Case{0.5, 0.0, 0.15e-3, "upright", silent, false},
                        Case{0.5, 0.0, 0.45e-3, "", silent, false}}) {
    CAPTURE(c.strength, c.angle_rad, c.orientation);
    const LayerReading reading =
        read_layers(face_with(c.strength, c.angle_rad, c.pitch_m), c.orientation);
    CHECK(std::string(name_of(reading.course)) == name_of(c.course));
    CHECK(reading.sure == c.sure);
    CHECK_FALSE(reading.reason.empty());
  }
  FaceMeasures turned = face_with(0.5, 0.05, 0.2e-3);
  turned.notch_found = false;
  CHECK(read_layers(turned, "flat").course == CrackCourse::CannotTell);
}

TEST_CASE("layers of a rendered face are read off the photograph", "[surface][synthetic]") {
  AppearanceModel model;
  model.features = feature_names();
  model.mean = Eigen::VectorXd::Zero(Eigen::Index(model.features.size()));
  model.scale = Eigen::VectorXd::Constant(Eigen::Index(model.features.size()), 10.0);
  model.weights = Eigen::MatrixXd::Zero(3, Eigen::Index(model.features.size()));
  FaceScene scene = test::scene_with_one(0.9);
  scene.zoom = 6.0;
  scene.light.direction = {
      0.6, 0.5, 0.6};  // aslant to both ways: a lamp along lines hides them
  scene.card = cv::Mat();
  scene.aim_m = {0.053, 0.038};
  scene.faces.front().look.layer_m = 0.5e-3;
  scene.faces.front().look.layer_slope = 0.6;
  scene.faces.front().look.dimple_slope = 0.15;
  for (const double turn : {0.0, CV_PI / 2.0}) {
    CAPTURE(turn);
    scene.faces.front().look.layer_turn_rad = turn;
    // A lamp that shines along lines hides them.
    scene.light.direction =
        turn == 0.0 ? cv::Vec3d(0.6, 0.1, 0.7) : cv::Vec3d(-0.35, 0.49, 0.7);
    const auto surface = measure_surface(photograph(scene), "photo", model);
    REQUIRE(surface.ok());
    const FaceMeasures& face = surface.value().faces.front();
    REQUIRE(face.notch_found);
    const LayerReading right = read_layers(face, turn == 0.0 ? "flat" : "on-edge");
    CAPTURE(right.reason);
    CHECK(right.course == CrackCourse::AcrossLayers);
    CHECK(right.sure);
    CHECK(read_layers(face, turn == 0.0 ? "on-edge" : "flat").course ==
          CrackCourse::CannotTell);
    CHECK(face.marks.lines_px.size() >= 3);
  }
  scene.faces.front().look.layer_m = 0.0;
  const auto plain = measure_surface(photograph(scene), "photo", model);
  REQUIRE(plain.ok());
  CHECK(read_layers(plain.value().faces.front(), "flat").course == CrackCourse::CannotTell);
}

TEST_CASE("even lines give direction and distance, also where texture is as strong",
          "[surface][synthetic]") {
  // Lines 6.3 px apart beside blotches of twice their contrast; the way to them is known.
  constexpr double kPitch_px = 6.3;
  for (const double angle : {0.0, 0.35, 1.2, CV_PI / 2.0}) {
    CAPTURE(angle);
    cv::Mat brightness(200, 160, CV_32FC1);
    cv::RNG random(7);
    random.fill(brightness, cv::RNG::NORMAL, 0.0, 1.0);
    cv::GaussianBlur(brightness, brightness, {}, 2.0);
    brightness *= 1.0 / std::sqrt(brightness.dot(brightness) / double(brightness.total()));
    for (int row = 0; row < brightness.rows; ++row) {
      for (int column = 0; column < brightness.cols; ++column) {
        const double along = column * std::cos(angle) + row * std::sin(angle);
        brightness.at<float>(row, column) +=
            float(0.7 * std::sin(2.0 * CV_PI * along / kPitch_px));
      }
    }
    const EvenLines lines = even_lines(brightness);
    CHECK(lines.strength > 0.2);
    // Directions are tried every 2.5 degrees; a wave's place is known to a small part of it.
    CHECK_THAT(lines.angle_rad, test::to_truncation(angle, 0.045));
    CHECK_THAT(lines.pitch_px, test::to_truncation(kPitch_px, 0.03 * kPitch_px));
  }
}
