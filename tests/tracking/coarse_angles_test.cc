// SPDX-License-Identifier: Apache-2.0
#include "tracking/coarse_angles.h"

#include "core/angle.h"
#include "render/render_swing.h"
#include "support/temp_folder.h"
#include "support/test.h"
#include "tracking/axle_search.h"

#include <algorithm>
#include <cmath>

#include <opencv2/imgproc.hpp>

using namespace swingloss;

TEST_CASE("the arm's shadow, as large as the arm and turning too, does not lead the search",
          "[tracking][synthetic]") {
  const test::TempFolder folder;
  RenderScene scene;
  scene.camera.yaw_deg = 8.0;
  scene.camera.pitch_deg = -4.0;
  scene.absorbed_J = 1.5;
  scene.length_s = 1.8;
  scene.seed = 5;
  const std::string path = folder / "clip.mp4";
  const RenderTruth truth = render_swing(scene, path);
  const ClipSurvey survey = survey_clip([&] { return open_clip(path); });
  const std::vector<AxleCandidate> axles =
      find_axle_candidates(follow_corners(survey), survey.small.front().size(), 1);
  REQUIRE(axles.size() == 1);
  const CoarseAngles found = find_coarse_angles(survey, axles[0].small_px);
  REQUIRE(found.theta_rad.size() == truth.frame_angle_deg.size());
  std::vector<double> off_deg;
  for (std::size_t k = 0; k < found.theta_rad.size(); ++k) {
    off_deg.push_back(
        std::abs(Angle::from_rad(found.theta_rad[k]).deg() - truth.frame_angle_deg[k]));
  }
  std::sort(off_deg.begin(), off_deg.end());
  // Four degrees of perspective at this yaw, and bins of one degree; the shadow stands up to a
  // hundred degrees off.
  CHECK_THAT(off_deg[off_deg.size() * 9 / 10], test::to_truncation(0.0, 6.0));
}

TEST_CASE(
    "about an axle that is off, a thin arm on a short arc is pointed at where it is far out",
    "[tracking][synthetic]") {
  const cv::Point2d axle(108.0, 60.0), taken(113.0, 92.0);
  constexpr double kLength_px = 230.0;
  ClipSurvey survey;
  std::vector<cv::Point2d> middle_of_far_half;
  for (int k = 0; k < 120; ++k) {
    const double theta_rad = Angle::from_deg(6.0 * std::cos(0.14 * k)).rad();
    const cv::Point2d along(std::sin(theta_rad), std::cos(theta_rad));
    cv::Mat picture(384, 216, CV_8UC1, cv::Scalar(20));
    cv::line(picture, axle, axle + kLength_px * along, cv::Scalar(120), 4, cv::LINE_AA);
    survey.frames.push_back(k);
    survey.small.push_back(picture);
    survey.t_s.push_back(k / 30.0);
    survey.motion.push_back(0.02);
    middle_of_far_half.push_back(axle + 0.75 * kLength_px * along);
  }
  survey.small_background = cv::Mat(384, 216, CV_32FC1, cv::Scalar(20.0));
  const CoarseAngles found = find_coarse_angles(survey, taken);
  REQUIRE(found.theta_rad.size() == survey.small.size());
  std::vector<double> off_deg;
  for (std::size_t k = 0; k < found.theta_rad.size(); ++k) {
    const cv::Point2d way = middle_of_far_half[k] - taken;
    off_deg.push_back(Angle::from_rad(found.theta_rad[k] - std::atan2(way.x, way.y)).deg());
  }
  std::sort(off_deg.begin(), off_deg.end());
  // Half a bin of one degree, and as much again for a rod's turn about the wrong axle.
  CHECK_THAT(off_deg[off_deg.size() / 2], test::to_truncation(0.0, 1.0));
}
