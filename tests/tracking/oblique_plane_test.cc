// SPDX-License-Identifier: Apache-2.0
#include "tracking/oblique_plane.h"

#include "core/angle.h"
#include "support/test.h"
#include "tracking/axle_search.h"

#include <algorithm>
#include <cmath>
#include <random>

using namespace swingloss;

namespace {

const cv::Size kSmall(400, 225);

/// The camera that looks from `across_deg` to the right of square and `above_deg` above it.
SwingView view_from(double across_deg, double above_deg) {
  SwingView view = central_view(
      kSmall, {Angle::from_deg(across_deg).rad(), Angle::from_deg(above_deg).rad()});
  view.axle_px = {190.0, 90.0};
  return view;
}

/// Places on an arm of 90 px that falls from one direction to another, each followed over one
/// picture. \param u_px  how well
std::vector<FollowedCorner> corners_of(const SwingView& view,
                                       double from_deg,
                                       double to_deg,
                                       double u_px = 0.1) {
  constexpr int kPictures = 120;
  std::mt19937 random(3);
  std::normal_distribution<double> noise_px(0.0, u_px);
  const auto seen = [&](double radius_px, double theta_deg) {
    const Eigen::Vector2d at =
        view.project(swing_from_body({0.0, radius_px, 0.0}, Angle::from_deg(theta_deg).rad()));
    return cv::Point2d(at.x() + noise_px(random), at.y() + noise_px(random));
  };
  const double step_deg = (to_deg - from_deg) / kPictures;
  std::vector<FollowedCorner> corners;
  for (int k = 0; k < kPictures; ++k) {
    const double theta_deg = from_deg + k * step_deg;
    for (const double radius_px : {30.0, 45.0, 60.0, 75.0, 90.0})
      corners.push_back(
          {seen(radius_px, theta_deg), seen(radius_px, theta_deg + 2.0 * step_deg)});
  }
  return corners;
}

/// Angle between a plane found and that of a view.
double apart_deg(const Eigen::Vector2d& tilt_rad, const SwingView& view) {
  const Eigen::Vector3d out(0.0, 0.0, 1.0);
  const SwingView found = central_view(kSmall, tilt_rad);
  return Angle::from_rad(std::acos(found.tilted(out).dot(view.tilted(out)))).deg();
}

}  // namespace

TEST_CASE("how the plane of swing lies is told from what is followed on it", "[tracking]") {
  struct Case {
    double across_deg, above_deg;
  };
  for (const Case& each : {Case{30.0, -5.0}, Case{-38.0, 4.0}, Case{12.0, 26.0}}) {
    CAPTURE(each.across_deg, each.above_deg);
    const SwingView view = view_from(each.across_deg, each.above_deg);
    const std::vector<Eigen::Vector2d> found =
        oblique_tilts_rad(corners_of(view, 120.0, -100.0), kSmall);
    REQUIRE_FALSE(found.empty());
    // Two of the last steps of the search, 2.5 degrees each.
    CHECK_THAT(apart_deg(found.front(), view), test::to_truncation(0.0, 5.0));
  }
}

TEST_CASE("from afar, where both ways of the tilt look alike, both are given", "[tracking]") {
  SwingView view = view_from(32.0, 0.0);
  view.focal_px *= 10.0;
  SwingView mirrored = view;
  mirrored.tilt_x_rad = -view.tilt_x_rad;
  const std::vector<Eigen::Vector2d> found =
      oblique_tilts_rad(corners_of(view, 120.0, -100.0), kSmall);
  REQUIRE(found.size() == 2);
  for (const SwingView& way : {view, mirrored}) {
    // Two of the last steps of the search, 2.5 degrees each.
    CHECK_THAT(std::min(apart_deg(found[0], way), apart_deg(found[1], way)),
               test::to_truncation(0.0, 5.0));
  }
}

TEST_CASE("a camera near square, or a short arc, is not taken for one far off square",
          "[tracking]") {
  CHECK(oblique_tilts_rad(corners_of(view_from(0.0, 0.0), 120.0, -100.0), kSmall).empty());
  CHECK(oblique_tilts_rad(corners_of(view_from(9.0, -6.0), 120.0, -100.0), kSmall).empty());
  CHECK(oblique_tilts_rad(corners_of(view_from(30.0, 0.0), 8.0, -8.0), kSmall).empty());
  CHECK(oblique_tilts_rad({}, kSmall).empty());
}

TEST_CASE("the part of the motion about one axle is one without noise, less with other motion",
          "[tracking]") {
  std::vector<FollowedCorner> corners = corners_of(view_from(0.0, 0.0), 120.0, -100.0, 1e-6);
  const double about_axle = part_about_one_axle(corners, kSmall);
  // Bisectors of places known to a millionth of a pixel miss the axle by some hundred
  // thousandth.
  CHECK_THAT(about_axle, test::to_truncation(1.0, 1e-5));
  const std::size_t turning = corners.size();
  for (std::size_t i = 0; i < turning; ++i)  // as many again, all shifted alike
    corners.push_back({{double(i % 400), 20.0}, {double(i % 400) + 3.0, 20.0}});
  // Their bisectors stand upright and pass the axle by up to half the picture's width.
  CHECK(part_about_one_axle(corners, kSmall) < 0.8 * about_axle);
  CHECK(part_about_one_axle({}, kSmall) == 0.0);
}
