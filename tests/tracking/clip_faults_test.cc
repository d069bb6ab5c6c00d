// SPDX-License-Identifier: Apache-2.0
#include "tracking/clip_faults.h"

#include "core/angle.h"
#include "support/test.h"

#include <string>

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

/// An arm seen level, to either side of the middle of a picture 200 px wide.
struct LevelArm {
  explicit LevelArm(double length_px) {
    info.width_px = 200;
    info.height_px = 400;
    angles.arm_length_px = length_px;
    angles.theta_rad = {-0.5 * kPi, 0.5 * kPi};
    view.axle_px = view.principal_px = {99.5, 199.5};
    view.focal_px = 4000.0;
  }
  ClipInfo info;
  CoarseAngles angles;
  SwingView view;
};

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

TEST_CASE("somebody who walks by before four ninths of the edges is no camera that moved",
          "[tracking]") {
  ClipSurvey survey = survey_of(0.0, 0);
  for (std::size_t i = 10; i < survey.small.size(); ++i) {
    const cv::Rect walker(0, 0, 4 * survey.small[i].cols / 9, survey.small[i].rows);
    tiles(6, 1.0)(walker).copyTo(survey.small[i](walker));
  }
  CHECK_FALSE(camera_moved(survey));
}

TEST_CASE("an arm that is foreshortened into the picture does not leave it", "[tracking]") {
  LevelArm arm(400.0);
  // Three tenths of the arm are 120 px, and half the picture is 100 wide.
  const auto left = arm_leaves_picture(arm.info, arm.angles, arm.view);
  REQUIRE(left);
  CHECK(left->code == "arm-leaves-picture");
  arm.view.tilt_x_rad = Angle::from_deg(40.0).rad();  // 120 px times its cosine: 92
  CHECK_FALSE(arm_leaves_picture(arm.info, arm.angles, arm.view));
}

TEST_CASE(
    "an arm of which the inner part stays in the picture is told from it, and that is said",
    "[tracking]") {
  // Three tenths are 48 px, seven tenths 112 px.
  const LevelArm cut(160.0);
  CHECK_FALSE(arm_leaves_picture(cut.info, cut.angles, cut.view));
  const auto partly = arm_partly_outside(cut.info, cut.angles, cut.view);
  REQUIRE(partly);
  CHECK(partly->code == "arm-partly-outside");
  CHECK(partly->text.find("2 of 2 frames") != std::string::npos);
  // Seven tenths are 98 px.
  const LevelArm whole(140.0);
  CHECK_FALSE(arm_partly_outside(whole.info, whole.angles, whole.view));
}
