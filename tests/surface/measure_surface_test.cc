// SPDX-License-Identifier: Apache-2.0
#include "surface/measure_surface.h"

#include "support/has_remark.h"
#include "support/test.h"
#include "surface/face_photos.h"

#include <algorithm>
#include <cmath>

#include <opencv2/imgproc.hpp>

using namespace swingloss;
using namespace swingloss::render;
using test::scene_with_faces;
using test::scene_with_one;

namespace {

SurfaceOptions true_print() {
  SurfaceOptions options;
  options.ruler_m = 80e-3;
  options.u_ruler_m = 0.0;
  options.u_face_height_m = 0.05e-3;
  return options;
}

Result<SurfaceMeasurement> measured(const cv::Mat& photo,
                                    const SurfaceOptions& options = true_print()) {
  return measure_surface(photo, "photo", test::blank_model(), options);
}

std::string code_of(const cv::Mat& photo, const SurfaceOptions& options = true_print()) {
  const auto surface = measured(photo, options);
  return surface.ok() ? "" : surface.failure().code;
}

}  // namespace

TEST_CASE("h and b_N come within 0.05 mm, and are off by what is stated",
          "[surface][synthetic]") {
  int faces = 0;
  int within = 0;
  double h_scores = 0.0;
  double b_scores = 0.0;
  int with_root = 0;
  for (std::uint64_t seed = 1; seed <= 8; ++seed) {
    const FaceScene scene = scene_with_faces(seed, seed % 2);
    const auto surface = measured(photograph(scene));
    REQUIRE(surface.ok());
    if (surface.value().faces.size() != 3) continue;
    for (std::size_t k = 0; k < 3; ++k) {
      const FaceMeasures& face = surface.value().faces[k];
      // With the card turned the faces may come from right to left; the sizes tell them apart.
      const FaceLook* look = nullptr;
      double nearest = 1e9;
      for (const PlacedFace& placed : scene.faces) {
        const cv::Point2d at = pixel_over(scene, placed.middle_m, 0.0);
        const Eigen::Vector2d middle = (face.outline_px[0] + face.outline_px[2]) / 2.0;
        const double off = std::hypot(at.x - middle.x(), at.y - middle.y());
        if (off < nearest) look = &placed.look;
        nearest = std::min(nearest, off);
      }
      if (!face.section || !face.notch_found) continue;
      CAPTURE(seed, k);
      const double h_off = face.section->thickness_m.value() - look->thickness_m;
      const double b_off =
          face.section->width_m.value() - (look->width_m - look->notch_depth_m);
      ++with_root;
      h_scores += std::pow(h_off / face.section->thickness_m.u(), 2);
      b_scores += std::pow(b_off / face.section->width_m.u(), 2);
      within += std::abs(h_off) <= 0.05e-3 ? 1 : 0;
      within += std::abs(b_off) <= 0.05e-3 ? 1 : 0;
      faces += 2;
      // Nothing is off by more than four of its own uncertainties.
      CHECK_THAT(h_off, test::to_uncertainty(0.0, face.section->thickness_m.u()));
      CHECK_THAT(b_off, test::to_uncertainty(0.0, face.section->width_m.u()));
    }
  }
  CAPTURE(with_root, within, faces);
  // Three faces in four show a root that the program dares to name.
  CHECK(with_root >= 16);
  CHECK(within >= faces * 8 / 10);
  // Mean squares of standard scores: 1 with deviation sqrt(2 / n).
  CHECK_THAT(h_scores / with_root, test::to_truncation(1.0, 4.0 * std::sqrt(2.0 / with_root)));
  CHECK_THAT(b_scores / with_root, test::to_truncation(1.0, 4.0 * std::sqrt(2.0 / with_root)));
}

TEST_CASE("the print's scale is taken from the ruler, and goes into the uncertainty",
          "[surface][synthetic]") {
  FaceScene scene = scene_with_one();
  scene.print_ratio = 0.985;  // the card came out 1.5 % small: bars seem larger
  const cv::Mat photo = photograph(scene);
  SurfaceOptions told = true_print();
  told.ruler_m = 80e-3 * 0.985;
  told.u_ruler_m = 0.1e-3;
  const auto right = measured(photo, told);
  REQUIRE(right.ok());
  REQUIRE(right.value().faces.front().section);
  const Uncertain& h = right.value().faces.front().section->thickness_m;
  CHECK_THAT(h.value(), test::to_uncertainty(6e-3, h.u()));
  CHECK(h.u(SourceKind::Shared) > 6e-3 * 0.1 / 80.0 * 0.99);

  SurfaceOptions silent = true_print();
  silent.ruler_m.reset();
  const auto blind = measured(photo, silent);
  REQUIRE(blind.ok());
  CHECK(test::has_remark(blind.value().remarks, "print-not-checked"));
  const Uncertain& doubtful = blind.value().faces.front().section->thickness_m;
  CHECK(doubtful.u() > 0.015 * doubtful.value());
  CHECK_THAT(doubtful.value(), test::to_uncertainty(6e-3, doubtful.u()));

  SurfaceOptions shrunk = true_print();
  shrunk.ruler_m = 80e-3 * 0.97;
  CHECK(code_of(photo, shrunk) == "print-scaled");
}

TEST_CASE("a face above the card is measured in its own plane, or refused",
          "[surface][synthetic]") {
  FaceScene scene = scene_with_one();
  scene.tilt_rad = 0.0;
  scene.aim_m = {0.053, 0.038};  // the lens straight above the bar
  scene.distance_m = 0.14;
  scene.faces.front().height_m = 8e-3;
  const cv::Mat photo = photograph(scene);
  SurfaceOptions options = true_print();
  options.face_height_m = 8e-3;
  options.focal_35mm = 26.0;
  const auto raised = measured(photo, options);
  REQUIRE(raised.ok());
  REQUIRE(raised.value().faces.front().section);
  const Uncertain& h = raised.value().faces.front().section->thickness_m;
  CHECK_THAT(h.value(), test::to_uncertainty(6e-3, h.u()));
  CHECK(h.u() < 0.15e-3);
  // Left out of account, 8 mm at 140 mm would make it 6 % too large.
  const auto flat = measured(photo);
  REQUIRE(flat.ok());
  CHECK(flat.value().faces.front().section->thickness_m.value() > 1.04 * 6e-3);

  scene.tilt_rad = 0.3;
  const auto aslant = measured(photograph(scene), options);
  REQUIRE(aslant.ok());
  CHECK_FALSE(aslant.value().faces.front().section);
  CHECK(test::has_remark(aslant.value().faces.front().remarks, "face-aslant"));
}

TEST_CASE("what lies wrongly in the window is refused with its reason", "[surface]") {
  FaceScene scene = scene_with_one();
  SECTION("no bar") {
    scene.faces.clear();
    CHECK(code_of(photograph(scene)) == "no-bar");
  }
  SECTION("bar over the edge of the window") {
    scene.faces.front().middle_m = {0.024, 0.038};
    CHECK(code_of(photograph(scene)) == "bar-cut-off");
  }
  SECTION("glare") {
    cv::Mat photo = photograph(scene);
    const cv::Point2d at = pixel_over(scene, {0.053, 0.038}, 0.0);
    cv::circle(photo, at, 22, cv::Scalar(255, 255, 255), cv::FILLED, cv::LINE_AA);
    const auto surface = measured(photo);
    REQUIRE(surface.ok());
    CHECK(test::has_remark(surface.value().faces.front().remarks, "glare"));
    CHECK_FALSE(surface.value().faces.front().judgement.verdict);
  }
}

TEST_CASE("without a card there are no sizes, and that is said", "[surface]") {
  FaceScene scene = scene_with_one();
  scene.card = cv::Mat();
  scene.aim_m = {0.053, 0.038};
  scene.zoom = 2.5;
  const auto surface = measured(photograph(scene));
  REQUIRE(surface.ok());
  REQUIRE(surface.value().faces.size() == 1);
  CHECK_FALSE(surface.value().card);
  CHECK_FALSE(surface.value().faces.front().section);
  CHECK(test::has_remark(surface.value().remarks, "no-card"));
  CHECK(surface.value().faces.front().appearance.roughness[0] > 0.0);
}

TEST_CASE("drawing-in at the notch and swelling at the far side are measured",
          "[surface][synthetic]") {
  FaceScene scene = scene_with_one();
  const auto plain = measured(photograph(scene));
  REQUIRE(plain.ok());
  scene.faces.front().look.contraction = 0.06;
  scene.faces.front().look.swelling = 0.10;
  const auto deformed = measured(photograph(scene));
  REQUIRE(deformed.ok());
  const FaceMeasures& face = deformed.value().faces.front();
  REQUIRE(face.notch_found);
  // The bumps are Gaussian with a standard deviation of 0.16 of the width; their mean over the
  // eighth next to root or far side is 0.95 of the height, and 0.02 is a fifth of a pixel a
  // side.
  REQUIRE(face.appearance.contraction);
  CHECK_THAT(*face.appearance.contraction, test::to_truncation(0.95 * 0.06, 0.02));
  CHECK_THAT(*face.appearance.swelling, test::to_truncation(0.95 * 0.10, 0.025));
  CHECK_THAT(*plain.value().faces.front().appearance.contraction,
             test::to_truncation(0.0, 0.01));
  CHECK_THAT(*plain.value().faces.front().appearance.swelling, test::to_truncation(0.0, 0.01));
}

TEST_CASE("a close-up with bright grains and a picture of nothing are taken whole, never crash",
          "[surface]") {
  cv::Mat grains(480, 640, CV_8UC3, cv::Scalar(60, 62, 64));
  for (int i = 0; i < 12; ++i) {
    const cv::Point at(80 + 45 * i, 100 + (i * 97) % 300);
    // A thin aslant streak: bright, more than a hundredth of the picture, and no bar's end.
    cv::line(grains, at, at + cv::Point(-70, 90), cv::Scalar(230, 230, 230), 32);
    cv::line(grains, at, at + cv::Point(70, 90), cv::Scalar(230, 230, 230), 32);
  }
  for (const cv::Mat& photo : {grains,
                               cv::Mat(480, 640, CV_8UC3, cv::Scalar(128, 128, 128)),
                               cv::Mat(480, 640, CV_8UC3, cv::Scalar(0, 0, 0)),
                               cv::Mat(40, 200, CV_8UC3, cv::Scalar(90, 120, 30)),
                               cv::Mat(3, 3, CV_8UC3, cv::Scalar(255, 255, 255))}) {
    CAPTURE(photo.cols, photo.rows);
    const auto surface = measured(photo);
    if (!surface.ok()) continue;
    REQUIRE(surface.value().faces.size() == 1);
    CHECK_FALSE(surface.value().faces.front().section);
    CHECK_FALSE(surface.value().faces.front().judgement.verdict);
  }
}
