// SPDX-License-Identifier: Apache-2.0
#include "imaging/one_field.h"

#include "support/test.h"

#include <cmath>

using namespace swingloss;

TEST_CASE("the upper field's lines stay, and a cubic goes through them", "[imaging]") {
  cv::Mat woven(21, 4, CV_8UC3, cv::Scalar::all(250));  // the lower field is somewhere else
  const auto level = [](int row) { return 100.0 + 0.05 * (row - 3) * (row - 9) * (row - 16); };
  for (int row = 0; row < woven.rows; row += 2)
    woven.row(row).setTo(cv::Scalar::all(std::round(level(row))));
  const cv::Mat out = one_field(woven);
  REQUIRE(out.size() == woven.size());
  for (int row = 0; row < out.rows; ++row) {
    const cv::Vec3b found = out.at<cv::Vec3b>(row, 3);
    CHECK(found[0] == found[2]);
    if (row == 1 || row == out.rows - 2) continue;
    // Lines of whole levels.
    CHECK_THAT(double(found[1]), test::to_truncation(level(row), 1.2));
  }
}

TEST_CASE("at the border the outermost line stands for what lies beyond", "[imaging]") {
  cv::Mat woven(5, 1, CV_8UC1, cv::Scalar(0));
  woven.at<uchar>(0, 0) = 40;
  woven.at<uchar>(2, 0) = 80;
  woven.at<uchar>(4, 0) = 200;
  const cv::Mat out = one_field(woven);
  CHECK(out.at<uchar>(1, 0) == (9 * (40 + 80) - 40 - 200 + 8) / 16);
  CHECK(out.at<uchar>(3, 0) == (9 * (80 + 200) - 40 - 200 + 8) / 16);
}

TEST_CASE("pictures of one and of two lines have a field as well", "[imaging]") {
  for (const int rows : {1, 2}) {
    cv::Mat woven(rows, 3, CV_8UC1, cv::Scalar(9));
    woven.row(0).setTo(cv::Scalar(40));
    const cv::Mat out = one_field(woven);
    CHECK(cv::countNonZero(out == 40) == 3 * rows);
  }
}
