// SPDX-License-Identifier: Apache-2.0
#include "tracking/dot_centre.h"

#include "support/test.h"

#include <algorithm>
#include <cmath>
#include <random>

using namespace swingloss;
using Eigen::Vector2d;

namespace {

constexpr int kSide_px = 41;
constexpr double kDot_px = 3.5, kRing_px = 7.2, kWindow_px = 4.5;

struct Drawing {
  Vector2d centre{20.3, 19.6};
  double ground = 40.0, blur_px = 0.0, noise = 0.0;
  double ring_per_px = 0.0;  ///< by which the ring and the dot grow lighter downward
};

/// A black dot in a white ring before a ground: light at one place of the still picture.
double light_at(const Vector2d& place, const Drawing& what) {
  const double away_px = (place - what.centre).norm();
  if (away_px >= kRing_px) return what.ground;
  return (away_px < kDot_px ? 45.0 : 200.0) + what.ring_per_px * (place - what.centre).y();
}

/// Pixels are means over 8 x 8 places, each over 16 instants of the exposure.
cv::Mat drawn(const Drawing& what) {
  constexpr int kFine = 8, kInstants = 16;
  std::mt19937_64 random(7);
  std::normal_distribution<double> normal;
  cv::Mat out(kSide_px, kSide_px, CV_32F);
  for (int row = 0; row < kSide_px; ++row) {
    for (int column = 0; column < kSide_px; ++column) {
      double sum = 0.0;
      for (int i = 0; i < kFine * kFine * kInstants; ++i) {
        const int across = i % kFine, down = i / kFine % kFine, instant = i / (kFine * kFine);
        const Vector2d place(column + (across + 0.5) / kFine - 0.5,
                             row + (down + 0.5) / kFine - 0.5);
        const double along = (instant + 0.5) / kInstants - 0.5;
        sum += light_at(place - Vector2d(along * what.blur_px, 0.0), what);
      }
      out.at<float>(row, column) =
          float(sum / (kFine * kFine * kInstants) + what.noise * normal(random));
    }
  }
  return out;
}

/// From a start that is off by a pixel and more.
std::optional<DotCentre> found(const Drawing& what) {
  return dot_centre(drawn(what), {what.centre + Vector2d(1.1, -0.8), kWindow_px});
}

}  // namespace

TEST_CASE("a dot's centre is found between pixels, sharp or smeared", "[tracking][synthetic]") {
  for (const double blur_px : {0.0, 2.0, 5.0}) {
    for (const double ground : {10.0, 120.0, 200.0}) {
      CAPTURE(blur_px, ground);
      Drawing what;
      what.ground = ground;
      what.blur_px = blur_px;
      const auto centre = found(what);
      REQUIRE(centre);
      // Edges sampled by whole pixels at the window's rim: a fiftieth of a pixel, seen here.
      CHECK_THAT(centre->pixel.x(), test::to_truncation(what.centre.x(), 0.02));
      // Likewise.
      CHECK_THAT(centre->pixel.y(), test::to_truncation(what.centre.y(), 0.02));
    }
  }
}

TEST_CASE("light that grows to one side does not draw the dot", "[tracking]") {
  Drawing what;
  what.ring_per_px = 6.0;
  const auto centre = found(what);
  REQUIRE(centre);
  // The window's rim by whole pixels, as above.
  CHECK_THAT(centre->pixel.y(), test::to_truncation(what.centre.y(), 0.02));
}

TEST_CASE("the doubt of a dot's centre grows with what is uneven about it", "[tracking]") {
  Drawing quiet, noisy;
  quiet.noise = 1.0;
  noisy.noise = 20.0;
  const auto sure = found(quiet), unsure = found(noisy);
  REQUIRE(sure);
  REQUIRE(unsure);
  CHECK(unsure->u_px > 3.0 * sure->u_px);
  CHECK_THAT(unsure->pixel.x(), test::to_uncertainty(noisy.centre.x(), unsure->u_px));
  // Half of the ring is hidden behind an edge: no centre to rely on.
  cv::Mat hidden = drawn(quiet);
  hidden.colRange(23, kSide_px) = 5.0F;
  CHECK_FALSE(dot_centre(hidden, {quiet.centre, kWindow_px}));
}

TEST_CASE("an edge in the ring is doubted as far as it draws the centre", "[tracking]") {
  for (int first_hidden = 24; first_hidden < 26; ++first_hidden) {
    CAPTURE(first_hidden);
    const Drawing what;
    cv::Mat picture = drawn(what);
    picture.colRange(first_hidden, kSide_px) = 120.0F;
    const auto centre = dot_centre(picture, {what.centre, kWindow_px});
    REQUIRE(centre);
    CHECK_THAT(centre->pixel.x(), test::to_uncertainty(what.centre.x(), centre->u_px, 2.0));
  }
}

TEST_CASE("where there is no dot, or not all of it, there is no centre", "[tracking]") {
  const cv::Mat flat(kSide_px, kSide_px, CV_32F, cv::Scalar(80.0));
  CHECK_FALSE(dot_centre(flat, {{20.0, 20.0}, kWindow_px}));
  Drawing cut;
  cut.centre = {4.6, 19.6};  // all of the dot, and not all of the ring
  CHECK_FALSE(dot_centre(drawn(cut), {cut.centre, kWindow_px}));
}

TEST_CASE("a white dot is as good as a black one", "[tracking][property]") {
  const Drawing what;
  const auto black = found(what);
  const auto white =
      dot_centre(255.0 - drawn(what), {what.centre + Vector2d(1.1, -0.8), kWindow_px});
  REQUIRE(black);
  REQUIRE(white);
  // Single precision of the pixels: 1e-7 of some 10 px, over a few rounds.
  CHECK_THAT(white->pixel.x(), test::to_truncation(black->pixel.x(), 1e-4));
}
