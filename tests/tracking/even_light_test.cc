// SPDX-License-Identifier: Apache-2.0
#include "tracking/even_light.h"

#include "support/test.h"
#include "tracking/drawn_bar.h"

#include <utility>

#include <opencv2/imgproc.hpp>

using namespace swingloss;

namespace {

/// Levels from black times `by`.
cv::Mat brightened(const cv::Mat& picture, double by, double black_level = 0.0) {
  cv::Mat out;
  picture.convertTo(out, CV_8U, by, black_level * (1.0 - by));
  return out;
}

}  // namespace

TEST_CASE("a picture in another light is brought back to the usual one", "[tracking]") {
  const cv::Mat wall = test::bar_wall();
  const cv::Mat with_arm = wall.clone();
  cv::rectangle(with_arm, {40, 40, 60, 90}, cv::Scalar(30), cv::FILLED);
  for (const auto& [light, black_level] :
       {std::pair{0.7, 0.0}, std::pair{1.1, 0.0}, std::pair{0.7, 16.0}, std::pair{1.1, 16.0}}) {
    CAPTURE(light, black_level);
    const cv::Mat back =
        in_light_of(wall, brightened(with_arm, light, black_level), black_level);
    // Rounded twice, and the brightness is one of whole levels.
    CHECK_THAT(cv::norm(back, with_arm, cv::NORM_INF), test::to_truncation(0.0, 3.0));
  }
}

TEST_CASE("a change of the light is seen in bands as well, a passing arm is not",
          "[tracking]") {
  const cv::Mat wall = test::bar_wall();
  // A level is one of 140 to 230, rounded: half a level of 140.
  CHECK_THAT(light_change(wall, brightened(wall, 0.9)), test::to_truncation(0.1, 0.0036));
  cv::Mat bands = wall.clone();
  for (int row = 0; row < bands.rows; ++row) {
    cv::Mat line = bands.row(row);
    wall.row(row).convertTo(line, CV_8U, (row / 50) % 2 == 0 ? 0.9 : 1.1);
  }
  CHECK(light_change(wall, bands) > 0.04);
  const cv::Mat with_arm = test::with_bar(wall, test::bar_axle_px(), 0.3);
  const cv::Mat further = test::with_bar(wall, test::bar_axle_px(), 0.5);
  CHECK(light_change(with_arm, further) < 0.01);
}

TEST_CASE("a picture in nearly the same light is left as it is", "[tracking]") {
  const cv::Mat wall = test::bar_wall();
  const cv::Mat nearly = brightened(wall, 1.005);
  CHECK(in_light_of(wall, nearly, 0.0).data == nearly.data);
}
