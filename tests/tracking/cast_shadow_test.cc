// SPDX-License-Identifier: Apache-2.0
#include "tracking/cast_shadow.h"

#include "core/angle.h"
#include "support/test.h"
#include "tracking/drawn_bar.h"

#include <cmath>

using namespace swingloss;

namespace {

/// The bar's outline taken off the wall by a part, as its shadow would be.
cv::Mat with_shadow(const cv::Mat& wall, const cv::Mat& with_bar) {
  cv::Mat out = wall.clone();
  for (int row = 0; row < out.rows; ++row) {
    for (int column = 0; column < out.cols; ++column) {
      uchar& level = out.at<uchar>(row, column);
      if (with_bar.at<uchar>(row, column) != level)
        level = cv::saturate_cast<uchar>(0.6 * level);
    }
  }
  return out;
}

ClipSurvey survey_of(bool shadow) {
  const cv::Mat wall = test::bar_wall();
  ClipSurvey survey;
  wall.convertTo(survey.small_background, CV_32F);
  for (int k = 0; k < 60; ++k) {
    const double theta_rad = 1.8 * std::cos(0.1 * k);
    const cv::Mat with_bar = test::with_bar(wall, test::bar_axle_px(), theta_rad);
    survey.frames.push_back(k);
    survey.t_s.push_back(k / 60.0);
    survey.motion.push_back(0.05);
    survey.small.push_back(shadow ? with_shadow(wall, with_bar) : with_bar);
  }
  return survey;
}

double likeness(bool shadow) {
  const ClipSurvey survey = survey_of(shadow);
  return shadow_likeness(
      survey, test::bar_axle_px(), find_coarse_angles(survey, test::bar_axle_px()));
}

}  // namespace

TEST_CASE("what hides a wall of cards is an arm, what dims it is a shadow", "[tracking]") {
  CHECK(likeness(false) < 0.9);
  CHECK(likeness(true) > 1.1);
}

TEST_CASE("of what is nowhere, nothing tells an arm from a shadow", "[tracking]") {
  const ClipSurvey survey = survey_of(false);
  CoarseAngles none = find_coarse_angles(survey, test::bar_axle_px());
  none.arm.presence.setTo(0.0F);
  CHECK(shadow_likeness(survey, test::bar_axle_px(), none) == 1.0);
}
