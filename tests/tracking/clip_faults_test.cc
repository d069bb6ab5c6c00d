// SPDX-License-Identifier: Apache-2.0
#include "tracking/clip_faults.h"

#include "core/angle.h"
#include "support/test.h"

#include <opencv2/core.hpp>

using namespace swingloss;

namespace {

constexpr int kPictures = 31;

/// A wall of dark and bright tiles, seen `across_px` further left, in this light.
cv::Mat tiles(int across_px, double light) {
  cv::Mat wall(160, 240, CV_8UC1);
  for (int y = 0; y < wall.rows; ++y) {
    for (int x = 0; x < wall.cols; ++x) {
      const bool dark = ((x + across_px) / 6 + y / 6) % 2 == 0;
      wall.at<uchar>(y, x) = cv::saturate_cast<uchar>(light * (dark ? 40.0 : 140.0));
    }
  }
  return wall;
}

/// \param growth  of the light over the clip \param moves_px  of the camera halfway through
ClipSurvey survey_of(double growth, int moves_px) {
  ClipSurvey survey;
  for (int i = 0; i < kPictures; ++i) {
    survey.spread.push_back(i);
    survey.small.push_back(
        tiles(i < kPictures / 2 ? 0 : moves_px, 1.0 + growth * i / kPictures));
  }
  return survey;
}

}  // namespace

TEST_CASE("a light that grows on a wall full of edges is no camera that moved", "[tracking]") {
  CHECK_FALSE(camera_moved(survey_of(0.4, 0)));
}

TEST_CASE("a camera that moved is told, in a light that grows as well", "[tracking]") {
  for (const double growth : {0.0, 0.4}) {
    const auto moved = camera_moved(survey_of(growth, 5));
    REQUIRE(moved);
    CHECK(moved->code == "camera-moved");
  }
}

TEST_CASE("an arm that is foreshortened into the picture does not leave it", "[tracking]") {
  ClipInfo info;
  info.width_px = 200;
  info.height_px = 400;
  CoarseAngles angles;
  angles.arm_length_px = 160.0;
  angles.theta_rad = {-0.5 * kPi, 0.5 * kPi};  // level, to either side
  SwingView view;
  view.axle_px = view.principal_px = {99.5, 199.5};
  view.focal_px = 4000.0;
  // Seven tenths of the arm are 112 px, and half the picture is 100 wide.
  const auto left = arm_leaves_picture(info, angles, view);
  REQUIRE(left);
  CHECK(left->code == "arm-leaves-picture");
  view.tilt_x_rad = Angle::from_deg(40.0).rad();  // 112 px times its cosine: 86
  CHECK_FALSE(arm_leaves_picture(info, angles, view));
}
