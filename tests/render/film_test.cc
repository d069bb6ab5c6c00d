// SPDX-License-Identifier: Apache-2.0
#include "render/film.h"

#include "support/test.h"

#include <cmath>

using namespace swingloss;
using namespace swingloss::render;
using test::to_truncation;

namespace {

cv::Mat1d grey_of(const cv::Mat& bgr) {
  cv::Mat1d grey(bgr.size());
  for (int row = 0; row < bgr.rows; ++row) {
    for (int column = 0; column < bgr.cols; ++column)
      grey(row, column) = bgr.at<cv::Vec3b>(row, column)[1];
  }
  return grey;
}

Levels even_levels() { return Levels(360, 640, CV_16SC3, cv::Scalar::all(100 * 64)); }

}  // namespace

TEST_CASE("levels follow the curve of sRGB", "[render][truth]") {
  const Film film(0.0, 1);
  // IEC 61966-2-1: 12.92 c below 0.0031308, else 1.055 c^(1/2.4) - 0.055, of 255. The table has
  // 16384 steps, and levels 64 to the unit.
  for (const double linear : {0.0, 0.001, 0.0214, 0.214, 0.5, 0.9, 1.0}) {
    CAPTURE(linear);
    const double level =
        255.0 *
        (linear <= 0.0031308 ? 12.92 * linear : 1.055 * std::pow(linear, 1.0 / 2.4) - 0.055);
    const double step = 255.0 * 12.92 * 0.5 / 16384.0;  // steepest at the dark end
    CHECK_THAT(film.level_of(static_cast<float>(linear)) / 64.0,
               to_truncation(level, step + 0.5 / 64.0));
  }
  CHECK(film.level_of(7.0F) == 255 * 64);
  CHECK(film.level_of(-1.0F) == 0);
}

TEST_CASE("noise has the stated size, and no bias", "[render]") {
  const double wanted = 2.5;
  const Film film(wanted, 5);
  const cv::Mat1d grey = grey_of(film.develop(even_levels(), 3));
  cv::Scalar mean, deviation;
  cv::meanStdDev(grey, mean, deviation);
  // Rounding to whole levels adds a variance of 1/12. With n = 230400 values the deviation has
  // a relative scatter of 1 / sqrt(2 n), the mean one of s / sqrt(n); four of each.
  const double expected = std::sqrt(wanted * wanted + 1.0 / 12.0);
  const double n = static_cast<double>(grey.total());
  CHECK_THAT(deviation[0], to_truncation(expected, 4.0 * expected / std::sqrt(2.0 * n)));
  CHECK_THAT(mean[0], to_truncation(100.0, 4.0 * expected / std::sqrt(n)));
}

TEST_CASE("noise is the frame's own and the seed's own", "[render]") {
  const Film film(1.5, 5);
  const cv::Mat first = film.develop(even_levels(), 0);
  CHECK(cv::norm(first, film.develop(even_levels(), 0), cv::NORM_INF) == 0.0);
  CHECK(cv::norm(first, film.develop(even_levels(), 1), cv::NORM_INF) > 0.0);
  CHECK(cv::norm(first, Film(1.5, 6).develop(even_levels(), 0), cv::NORM_INF) > 0.0);
}

TEST_CASE("without noise a picture is its levels", "[render]") {
  const cv::Mat picture = Film(0.0, 1).develop(even_levels(), 4);
  CHECK(cv::norm(picture,
                 cv::Mat(picture.size(), CV_8UC3, cv::Scalar::all(100)),
                 cv::NORM_INF) == 0.0);
}
