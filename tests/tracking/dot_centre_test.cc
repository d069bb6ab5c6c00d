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

/// A black dot in a white ring before a ground, smeared along x: light at one place.
double light_at(const Vector2d& place, const Vector2d& centre, double ground) {
  const double away_px = (place - centre).norm();
  if (away_px < kDot_px) return 5.0;
  return away_px < kRing_px ? 200.0 : ground;
}

struct Drawing {
  Vector2d centre{20.3, 19.6};
  double ground = 40.0, ground_per_px = 0.0, blur_px = 0.0, noise = 0.0;
};

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
        sum += light_at(place,
                        what.centre + Vector2d(along * what.blur_px, 0.0),
                        what.ground + what.ground_per_px * (row - 20));
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

TEST_CASE("a ground that grows lighter to one side does not draw the dot", "[tracking]") {
  Drawing what;
  what.ground = 100.0;
  what.ground_per_px = 4.0;
  what.blur_px = 5.0;
  const auto centre = found(what);
  REQUIRE(centre);
  CHECK_THAT(centre->pixel.y(), test::to_uncertainty(what.centre.y(), centre->u_px, 2.0));
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
  // Half of the ring is hidden behind an edge: no centre, or none to rely on.
  cv::Mat hidden = drawn(quiet);
  hidden.colRange(23, kSide_px) = 5.0F;
  const auto cut = dot_centre(hidden, {quiet.centre, kWindow_px});
  CHECK((!cut || cut->u_px > 10.0 * sure->u_px));
}

TEST_CASE("where there is no dot, or not all of it, there is no centre", "[tracking]") {
  const cv::Mat flat(kSide_px, kSide_px, CV_32F, cv::Scalar(80.0));
  CHECK_FALSE(dot_centre(flat, {{20.0, 20.0}, kWindow_px}));
  CHECK_FALSE(dot_centre(drawn({}), {{3.0, 20.0}, kWindow_px}));
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
