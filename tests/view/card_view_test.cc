// SPDX-License-Identifier: Apache-2.0
#include "view/card_view.h"

#include "support/test.h"
#include "view/card_photos.h"

#include <cmath>

#include <opencv2/imgproc.hpp>

using namespace swingloss;
using namespace swingloss::render;
using test::card_scene;

namespace {

std::string code_of(const cv::Mat& photo) {
  const auto found = find_card(photo);
  return found.ok() ? "" : found.failure().code;
}

/// The distance between two window corners as the map has it from the true pixels, less the
/// truth; and what the map's covariance allows.
struct LengthError {
  double error_m = 0.0, u_m = 0.0;
};

LengthError length_error(const FaceScene& scene, const CardView& view) {
  const CardBox& window = view.card.window_m;
  const auto a = pixel_over(scene, {window.low_m.x(), window.low_m.y()}, 0.0);
  const auto b = pixel_over(scene, {window.high_m.x(), window.high_m.y()}, 0.0);
  const auto length = [&](const CardMap& map) {
    return (map.plane_of({a.x, a.y}) - map.plane_of({b.x, b.y})).norm();
  };
  LengthError out;
  out.error_m = length(view.map) - (window.high_m - window.low_m).norm();
  for (const CardMap& off : view.one_u_off) {
    out.u_m = std::hypot(out.u_m, length(off) - length(view.map));
  }
  return out;
}

}  // namespace

TEST_CASE("find_card's lengths are off by what it states, neither more nor less",
          "[view][synthetic]") {
  // Poses, lens and noise differ from picture to picture, so that what the corner finder does
  // wrong in one pose is not the same in all.
  constexpr int kPictures = 10;
  double sum = 0.0;
  for (int i = 0; i < kPictures; ++i) {
    FaceScene scene = card_scene(std::size_t(i) % 2);
    scene.tilt_rad = 0.03 * i;
    scene.tilt_toward_rad = 0.9 * i;
    scene.roll_rad = 0.37 * i;
    scene.distance_m = 0.130 + 0.001 * i;
    scene.k1 = 0.01 * (i % 3 - 1);
    scene.noise_levels = 4.0;
    scene.seed = unsigned(i + 1);
    CAPTURE(i);
    const auto found = find_card(photograph(scene));
    REQUIRE(found.ok());
    const LengthError length = length_error(scene, found.value());
    sum += std::pow(length.error_m / length.u_m, 2);
    // A tenth of what a section may be off, over six times its length.
    CHECK_THAT(length.error_m, test::to_truncation(0.0, 0.02e-3));
  }
  // The mean square of ten standard scores is 1 with deviation sqrt(2 / 10).
  CHECK_THAT(sum / kPictures, test::to_truncation(1.0, 4.0 * std::sqrt(2.0 / kPictures)));
}

TEST_CASE("find_card knows tilt, distance and blur", "[view][synthetic]") {
  FaceScene scene = card_scene();
  scene.tilt_rad = 0.25;
  scene.distance_m = 0.15;
  scene.blur_px = 1.0;
  const auto found = find_card(photograph(scene));
  REQUIRE(found.ok());
  const CardView& view = found.value();
  // Aim and middle of the window differ by 8 mm: 3 degrees as seen from the lens.
  CHECK_THAT(view.pose.tilt_rad, test::to_truncation(0.25, 0.06));
  // The lens is over the aim, the tilted distance along the normal; 26 mm is the true focal
  // length here, so what remains is the fit's.
  CHECK_THAT(view.pose.distance_m, test::to_truncation(0.15 * std::cos(0.25), 0.002));
  // The blur, the pixels' own width (0.29) and the display curve's unequal steepness.
  CHECK_THAT(view.blur_px, test::to_truncation(std::hypot(1.0, 0.29), 0.3));
}

TEST_CASE("a plane above the card has its own scale", "[view][synthetic]") {
  FaceScene scene = card_scene();
  scene.distance_m = 0.15;
  const auto found = find_card(photograph(scene));
  REQUIRE(found.ok());
  const CardView& view = found.value();
  const double height_m = 0.02;
  const CardMap up = view.map.raised(height_m, view.focal_ideal);
  const auto a = pixel_over(scene, {0.03, 0.03}, height_m);
  const auto b = pixel_over(scene, {0.07, 0.05}, height_m);
  const double true_m = std::hypot(0.04, 0.02);
  const double flat_m = (view.map.plane_of({a.x, a.y}) - view.map.plane_of({b.x, b.y})).norm();
  const double raised_m = (up.plane_of({a.x, a.y}) - up.plane_of({b.x, b.y})).norm();
  CHECK(flat_m > 1.1 * true_m);
  // The map's own doubt, magnified by the leverage of the height, 20 of 150 mm.
  CHECK_THAT(raised_m, test::to_truncation(true_m, 0.003 * true_m));
}

TEST_CASE("find_card refuses what cannot carry a scale, each with its own reason", "[view]") {
  const cv::Mat good = photograph(card_scene());
  REQUIRE(code_of(good) == "");

  SECTION("no card") {
    FaceScene bare = card_scene();
    bare.card = cv::Mat();
    CHECK(code_of(photograph(bare)) == "no-card");
  }
  SECTION("blurred") {
    cv::Mat blurred;
    cv::GaussianBlur(good, blurred, {}, 3.0);
    CHECK(code_of(blurred) == "picture-blurred");
  }
  SECTION("underexposed") {
    // So dark, noise is read as a tag here and there: that makes no second card.
    for (const double light : {0.2, 0.15, 0.1}) {
      CAPTURE(light);
      CHECK(code_of(good * light) == "picture-underexposed");
    }
  }
  SECTION("overexposed") {
    cv::Mat bright;
    good.convertTo(bright, -1, 1.0, 110.0);
    CHECK(code_of(bright) == "picture-overexposed");
  }
  SECTION("cut off") {
    CHECK(code_of(good(cv::Rect(0, 0, 700, 960)).clone()) == "card-cut-off");
  }
  SECTION("tags hidden") {
    cv::Mat hidden = good.clone();
    cv::rectangle(hidden, cv::Rect(0, 0, 500, 960), cv::Scalar(120, 140, 180), cv::FILLED);
    CHECK(code_of(hidden) == "card-hidden");
  }
  SECTION("two cards") {
    cv::Mat both;
    cv::hconcat(good, photograph(card_scene(1)), both);
    CHECK(code_of(both) == "two-cards");
    cv::hconcat(good, good, both);
    CHECK(code_of(both) == "two-cards");
    // The other card with half its tags covered.
    cv::Mat half = photograph(card_scene(1));
    cv::rectangle(half, cv::Rect(0, 0, 640, 960), cv::Scalar::all(128), cv::FILLED);
    cv::hconcat(good, half, both);
    CHECK(code_of(both) == "two-cards");
  }
  SECTION("a second piece of print is not a second card") {
    // Two tags of the same card once more, on a scrap of paper beside it.
    cv::Mat both;
    cv::Mat scrap = good.clone();
    scrap(cv::Rect(0, 200, 1280, 760)).setTo(cv::Scalar::all(200));
    cv::hconcat(good, scrap(cv::Rect(0, 0, 560, 960)), both);
    CHECK(code_of(both) == "");
  }
  SECTION("200 pixels wide") {
    cv::Mat small;
    cv::resize(good, small, {200, 150}, 0, 0, cv::INTER_AREA);
    const std::string code = code_of(small);
    CHECK((code == "picture-too-small" || code == "no-card" || code == "card-hidden"));
  }
  SECTION("tilted") {
    FaceScene tilted = card_scene();
    tilted.tilt_rad = 0.75;
    tilted.distance_m = 0.15;
    CHECK(code_of(photograph(tilted)) == "card-tilted");
  }
  SECTION("bent") {
    // The right third of the picture is stretched, as a curled card would look.
    cv::Mat from_x(good.size(), CV_32FC1);
    cv::Mat from_y(good.size(), CV_32FC1);
    for (int row = 0; row < good.rows; ++row) {
      for (int column = 0; column < good.cols; ++column) {
        const float over = float(std::max(0.0, (column - 640.0) / 640.0));
        from_x.at<float>(row, column) = float(column);
        from_y.at<float>(row, column) = float(row) + 40.0F * over * over;
      }
    }
    cv::Mat curled;
    cv::remap(good, curled, from_x, from_y, cv::INTER_LINEAR);
    CHECK(code_of(curled) == "card-bent");
  }
}

TEST_CASE("find_card takes a photograph of 48 million pixels, turned any way", "[view]") {
  const cv::Mat good = photograph(card_scene());
  cv::Mat large;
  cv::resize(good, large, {8000, 6000}, 0, 0, cv::INTER_CUBIC);
  const auto found = find_card(large);
  REQUIRE(found.ok());
  const double small_px_per_m = find_card(good).value().px_per_m;
  // The same picture, 6.25 times larger.
  CHECK_THAT(found.value().px_per_m / small_px_per_m, test::to_truncation(6.25, 0.01));
  cv::Mat turned;
  cv::rotate(good, turned, cv::ROTATE_90_CLOCKWISE);
  const auto aside = find_card(turned);
  REQUIRE(aside.ok());
  CHECK_THAT(aside.value().px_per_m / small_px_per_m, test::to_truncation(1.0, 1e-3));
}
