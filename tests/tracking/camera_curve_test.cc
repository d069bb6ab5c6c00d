// SPDX-License-Identifier: Apache-2.0
#include "tracking/camera_curve.h"

#include "support/test.h"

#include <cmath>

using namespace swingloss;

namespace {

/// Light of a stored part by the standard's own two-piece curve [IEC61966-2-1].
double standard_light(double part) {
  return part <= 0.04045 ? part / 12.92 : std::pow((part + 0.055) / 1.055, 2.4);
}

}  // namespace

TEST_CASE("light follows the standard colour space's curve closely", "[tracking][curve]") {
  const CameraCurve curve;
  for (int level = 50; level <= 255; level += 41) {
    const cv::Mat one(1, 1, CV_8UC1, cv::Scalar(level));
    const double light = double(curve.light_of(one).at<float>(0, 0)) / 255.0;
    // [IEC61966-2-1]; a single power stands for its two pieces to one part in a hundred of
    // white.
    CHECK_THAT(light, test::to_truncation(standard_light(level / 255.0), 0.01));
  }
}

TEST_CASE("levels of light lead back to the levels, with their slope", "[tracking][curve]") {
  for (const CameraCurve& curve : {CameraCurve{}, CameraCurve::video_range()}) {
    for (int level = 60; level <= 230; level += 34) {
      const cv::Mat one(1, 1, CV_8UC1, cv::Scalar(level));
      const auto light = double(curve.light_of(one).at<float>(0, 0));
      // Single precision of the pixels.
      CHECK_THAT(curve.level_of(light).level, test::to_truncation(double(level), 1e-3));
      const double step = 0.01;
      const double slope =
          (curve.level_of(light + step).level - curve.level_of(light - step).level) /
          (2.0 * step);
      // Central difference: third order in the step.
      CHECK_THAT(curve.level_of(light).by_light, test::to_truncation(slope, 1e-5));
    }
  }
}

TEST_CASE("black and white of video range are 16 and 235", "[tracking][curve]") {
  // [ITU-R-BT709] 8-bit coding.
  const cv::Mat ends = (cv::Mat_<uchar>(1, 2) << 16, 235);
  const cv::Mat light = CameraCurve::video_range().light_of(ends);
  // Single precision.
  CHECK_THAT(double(light.at<float>(0, 0)), test::to_truncation(0.0, 1e-4));
  // Single precision.
  CHECK_THAT(double(light.at<float>(0, 1)), test::to_truncation(255.0, 1e-3));
}

TEST_CASE("the table of levels agrees with the curve", "[tracking][property]") {
  for (const CameraCurve& curve : {CameraCurve{}, CameraCurve::video_range()}) {
    const LevelTable table(curve);
    for (double light = 0.0; light < 400.0; light += 0.137) {
      CAPTURE(light);
      const StoredLevel exact = curve.level_of(light), found = table.level_of(light);
      const bool at_corner = light < 0.3;
      // A straight piece between two of 2048 places; the curve's corner lies within one.
      CHECK_THAT(found.level, test::to_truncation(exact.level, at_corner ? 0.1 : 0.002));
      if (at_corner) continue;
      // Likewise, of the slope.
      CHECK_THAT(found.by_light, test::to_truncation(exact.by_light, 0.001 * exact.by_light));
    }
  }
}
