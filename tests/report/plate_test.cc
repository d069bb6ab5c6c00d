// SPDX-License-Identifier: Apache-2.0
#include "report/plate.h"

#include "core/angle.h"
#include "core/number_text.h"
#include "report/invented_frames.h"
#include "report/invented_series.h"
#include "support/test.h"

#include <opencv2/imgcodecs.hpp>

namespace swingloss {
namespace {

cv::Mat decoded(const std::string& bytes) {
  return cv::imdecode(std::vector<unsigned char>(bytes.begin(), bytes.end()), cv::IMREAD_COLOR);
}

/// The arm's own colour on a picture: orange, far from anything in the invented frames.
bool is_arm_colour(const cv::Vec3b& bgr) {
  return bgr[2] > 150 && bgr[1] > 100 && bgr[0] < 110;
}

bool has_arm_near(const cv::Mat& picture, int x_px, int y_px) {
  for (int y = y_px - 2; y <= y_px + 2; ++y) {
    for (int x = x_px - 2; x <= x_px + 2; ++x) {
      if (is_arm_colour(picture.at<cv::Vec3b>(y, x))) return true;
    }
  }
  return false;
}

}  // namespace

TEST_CASE("a plate shows the three moments, the same cut-out of each", "[report]") {
  const BarResult bar = test::invented_series().bars[0];
  const Plate plate = draw_plate(test::invented_frames(bar));
  REQUIRE(plate.panels.size() == 3);
  CHECK(plate.panels[0].event == "release");
  CHECK(plate.panels[2].event == "turn");
  for (const PlatePanel& panel : plate.panels) {
    const cv::Mat picture = decoded(panel.jpeg);
    CHECK(picture.cols == panel.width_px);
    CHECK(picture.rows == panel.height_px);
    CHECK(picture.size() == decoded(plate.panels[0].jpeg).size());
  }
  CHECK(decoded(plate.png).cols == 1920);
}

TEST_CASE("the turning point's angle is counted as the rise is", "[report]") {
  const BarResult bar = test::invented_series().bars[0];
  const std::vector<StripFrame> frames = test::invented_frames(bar);
  REQUIRE(frames[2].fitted_rad.has_value());
  REQUIRE(*frames[2].fitted_rad < 0.0);
  const std::string rise_deg = fixed_text(-*frames[2].fitted_rad * 180.0 / kPi, 1);
  CHECK_THAT(draw_plate(frames).panels[2].description,
             Catch::Contains("rise\u00A0" + rise_deg));
}

TEST_CASE("the fitted arm is drawn where the fit puts it", "[report]") {
  const BarResult bar = test::invented_series().bars[0];
  const std::vector<StripFrame> frames = test::invented_frames(bar);
  const cv::Mat plate = decoded(draw_plate(frames).png);
  // The cut-out is 132 px (1.2 arm lengths of 110 px) about the axle at (240, 150) on a picture
  // of 480 x 360: columns 108 to 372, rows 18 to 282, 265 px square, shown 640 px wide.
  const double scale = 640.0 / 265.0;
  for (std::size_t i = 0; i < 3; ++i) {
    for (const double part : {0.3, 0.5, 0.7}) {
      const Eigen::Vector2d at =
          frames[i].axle_px + part * (*frames[i].arm_end_px - frames[i].axle_px);
      const int x_px =
          static_cast<int>(640.0 * static_cast<double>(i) + scale * (at.x() - 107.5));
      const int y_px = static_cast<int>(scale * (at.y() - 17.5));
      CHECK(has_arm_near(plate, x_px, y_px));
      CHECK_FALSE(has_arm_near(plate, x_px + 25, y_px + 25));
    }
  }
}

TEST_CASE("without a fitted end the whole picture is shown and nothing is drawn on it",
          "[report]") {
  std::vector<StripFrame> frames = test::invented_frames(test::invented_series().bars[0]);
  for (StripFrame& frame : frames) frame.arm_end_px.reset();
  const Plate plate = draw_plate(frames);
  const cv::Mat picture = decoded(plate.panels[0].jpeg);
  // 480 x 360 keeps its shape: 3 rows to 4 columns, rounded to whole pixels.
  CHECK_THAT(static_cast<double>(picture.rows), test::to_truncation(0.75 * picture.cols, 0.5));
  bool any = false;
  for (auto pixel = picture.begin<cv::Vec3b>(); pixel != picture.end<cv::Vec3b>(); ++pixel)
    any = any || is_arm_colour(*pixel);
  CHECK_FALSE(any);
}

TEST_CASE("no pictures, no plate", "[report]") {
  const Plate plate = draw_plate({});
  CHECK(plate.panels.empty());
  CHECK(plate.png.empty());
}

}  // namespace swingloss
