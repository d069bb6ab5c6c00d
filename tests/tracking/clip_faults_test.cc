// SPDX-License-Identifier: Apache-2.0
#include "tracking/clip_faults.h"

#include "support/test.h"

#include <vector>

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

ClipSurvey survey_of(std::vector<cv::Mat> pictures) {
  ClipSurvey survey;
  for (std::size_t i = 0; i < pictures.size(); ++i) {
    survey.t_s.push_back(double(i) / 60.0);
    survey.spread.push_back(int(i));
  }
  survey.small = std::move(pictures);
  return survey;
}

}  // namespace

TEST_CASE("a light that grows on a wall full of edges is no camera that moved", "[tracking]") {
  std::vector<cv::Mat> pictures;
  for (int i = 0; i < kPictures; ++i) pictures.push_back(tiles(0, 1.0 + 0.4 * i / kPictures));
  CHECK_FALSE(camera_moved(survey_of(std::move(pictures))));
}

TEST_CASE("a camera that moved is told, in a light that grows as well", "[tracking]") {
  for (const double growth : {0.0, 0.4}) {
    std::vector<cv::Mat> pictures;
    for (int i = 0; i < kPictures; ++i)
      pictures.push_back(tiles(i < kPictures / 2 ? 0 : 5, 1.0 + growth * i / kPictures));
    const auto moved = camera_moved(survey_of(std::move(pictures)));
    REQUIRE(moved);
    CHECK(moved->code == "camera-moved");
  }
}
