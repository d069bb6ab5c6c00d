// SPDX-License-Identifier: Apache-2.0
#include "tracking/picture_zero.h"

#include "support/test.h"

#include <cmath>

using namespace swingloss;

namespace {

SwingView view_about(double x_px, double y_px) {
  SwingView view;
  view.axle_px = {x_px, y_px};
  view.focal_px = 800.0;
  view.principal_px = {240.0, 400.0};
  return view;
}

std::vector<ArmCrop> crops_at(const std::vector<double>& theta_rad) {
  std::vector<ArmCrop> crops;
  for (const double theta : theta_rad) {
    crops.emplace_back();
    crops.back().theta_rad = theta;
  }
  return crops;
}

}  // namespace

TEST_CASE("the arm is drawn along what the coarse look saw as the arm", "[tracking]") {
  const SwingView view = view_about(216.0, 269.0);
  const std::vector<ArmCrop> crops = crops_at({-0.4, 0.0, 0.5, 0.1, 9.0});
  // One picture of five is nonsense, which the median does not mind.
  const double turn_rad =
      turn_to_arm_rad(crops, view, view, {-0.43, -0.03, 0.47, 0.07, 0.0}, 460.0);
  CHECK_THAT(turn_rad, test::to_rounding(0.03, 64));
}

TEST_CASE("an axle that slid on a short arc does not turn the drawn arm off the arm's end",
          "[tracking]") {
  const SwingView coarse = view_about(216.0, 269.0), fine = view_about(223.5, 264.0);
  const std::vector<double> theta_rad = {-0.1, -0.05, 0.0, 0.05, 0.1};
  const double turn_rad = turn_to_arm_rad(crops_at(theta_rad), coarse, fine, theta_rad, 460.0);
  // Plane trigonometry at hanging rest: the end lies 7.5 px left and 465 px below.
  CHECK_THAT(turn_rad, test::to_truncation(std::atan2(-7.5, 465.0), 1e-9));
}
