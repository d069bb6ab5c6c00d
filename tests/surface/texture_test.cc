// SPDX-License-Identifier: Apache-2.0
#include "surface/texture.h"

#include "support/test.h"

#include <cmath>
#include <set>

using namespace swingloss;

namespace {

/// The 4 x 4 picture of [Haralick1973], figure 3.
cv::Mat haralick_picture() {
  return (cv::Mat_<unsigned char>(4, 4) << 0, 0, 1, 1, 0, 0, 1, 1, 0, 2, 2, 2, 2, 2, 3, 3);
}

Eigen::Matrix4d counts_of(const cv::Point& offset) {
  return cooccurrence(haralick_picture(), 4, offset);
}

/// Set of the Sierpinski triangle: Pascal's triangle, odd entries.
cv::Mat sierpinski(int side) {
  cv::Mat set = cv::Mat::zeros(side, side, CV_8UC1);
  for (int r = 0; r < side; ++r) {
    for (int c = 0; c <= r; ++c) {
      if ((c & (r - c)) == 0) set.at<unsigned char>(r, c) = 255;
    }
  }
  return set;
}

/// Set of the Sierpinski carpet: no place where row and column have a 1 in the same ternary
/// digit.
cv::Mat carpet(int side) {
  cv::Mat set(side, side, CV_8UC1, cv::Scalar(255));
  for (int r = 0; r < side; ++r) {
    for (int c = 0; c < side; ++c) {
      for (int x = r, y = c; x > 0 || y > 0; x /= 3, y /= 3) {
        if (x % 3 == 1 && y % 3 == 1) set.at<unsigned char>(r, c) = 0;
      }
    }
  }
  return set;
}

}  // namespace

TEST_CASE("cooccurrence gives the four matrices of Haralick's example", "[surface][truth]") {
  // Haralick, Shanmugam, Dinstein 1973, figure 3 (values from memory, computed again
  // elsewhere).
  Eigen::Matrix4d across, rising, down, falling;
  across << 4, 2, 1, 0, 2, 4, 0, 0, 1, 0, 6, 1, 0, 0, 1, 2;
  rising << 4, 1, 0, 0, 1, 2, 2, 0, 0, 2, 4, 1, 0, 0, 1, 0;
  down << 6, 0, 2, 0, 0, 4, 2, 0, 2, 2, 2, 2, 0, 0, 2, 0;
  falling << 2, 1, 3, 0, 1, 2, 1, 0, 3, 1, 0, 2, 0, 0, 2, 0;
  CHECK(counts_of({1, 0}) == across);
  CHECK(counts_of({1, -1}) == rising);
  CHECK(counts_of({0, -1}) == down);
  CHECK(counts_of({-1, -1}) == falling);
}

TEST_CASE("features of Haralick's matrices are the printed ones", "[surface][truth]") {
  // The same matrices by an independent program; nine digits printed.
  struct Row {
    cv::Point offset;
    double moment, contrast, homogeneity, correlation, entropy;
  };
  const Row rows[] = {
      {{1, 0}, 0.145833333, 0.583333333, 0.808333333, 0.719532554, 2.09472905},
      {{1, -1}, 0.148148148, 0.444444444, 0.777777778, 0.735294118, 2.04319187},
      {{0, -1}, 0.138888889, 1.0, 0.7, 0.485714286, 2.09472905},
      {{-1, -1}, 0.117283951, 1.77777778, 0.511111111, 0.162790698, 2.21610225}};
  for (const Row& row : rows) {
    CAPTURE(row.offset);
    const CooccurrenceFeatures f = features_of(cooccurrence(haralick_picture(), 4, row.offset));
    CHECK_THAT(f.second_moment, test::to_printed_digits(row.moment, 9));
    CHECK_THAT(f.contrast, test::to_printed_digits(row.contrast, 9));
    CHECK_THAT(f.homogeneity, test::to_printed_digits(row.homogeneity, 9));
    CHECK_THAT(f.correlation, test::to_printed_digits(row.correlation, 9));
    CHECK_THAT(f.entropy, test::to_printed_digits(row.entropy, 9));
  }
}

TEST_CASE("local_pattern gives the worked example", "[surface][truth]") {
  // Patch 6 5 2 / 7 6 1 / 9 8 7 with weights 1 2 4 / 128 - 8 / 64 32 16 is pattern 241: the
  // example of Maenpaa's thesis on local binary patterns (value from memory).
  const cv::Mat patch = (cv::Mat_<float>(3, 3) << 6, 5, 2, 7, 6, 1, 9, 8, 7);
  CHECK(local_pattern(patch, 1, 1) == 241);
}

TEST_CASE("of 256 patterns 58 are uniform", "[surface][truth]") {
  // Ojala, Pietikainen, Maenpaa 2002: 58 uniform codes of 8 neighbours, in nine classes.
  int uniform = 0;
  std::set<int> classes;
  for (int pattern = 0; pattern < 256; ++pattern) {
    const int group = turned_pattern_class(pattern);
    classes.insert(group);
    uniform += group < 9 ? 1 : 0;
    const int turned = ((pattern << 1) | (pattern >> 7)) & 255;
    CHECK(turned_pattern_class(turned) == group);
  }
  CHECK(uniform == 58);
  CHECK(classes.size() == 10);
}

TEST_CASE("box_dimension gives the dimensions of known sets", "[surface][truth]") {
  const std::vector<int> twos = {1, 2, 4, 8, 16, 32, 64};
  const std::vector<int> threes = {1, 3, 9, 27, 81};
  // The counts are exact powers, so only sums of logarithms are rounded: some tens of units.
  CHECK_THAT(box_dimension(cv::Mat(128, 128, CV_8UC1, cv::Scalar(255)), twos),
             test::to_rounding(2.0, 50));
  cv::Mat line = cv::Mat::zeros(128, 128, CV_8UC1);
  line.row(40).setTo(255);
  CHECK_THAT(box_dimension(line, twos), test::to_rounding(1.0, 50));
  CHECK_THAT(box_dimension(sierpinski(256), twos),
             test::to_rounding(std::log(3.0) / std::log(2.0), 50));
  CHECK_THAT(box_dimension(carpet(243), threes),
             test::to_rounding(std::log(8.0) / std::log(3.0), 50));
}

TEST_CASE("equal_levels looks at the order of values alone", "[surface]") {
  cv::Mat values(20, 20, CV_32FC1);
  for (int i = 0; i < 400; ++i) values.at<float>(i / 20, i % 20) = float((i * 37) % 400);
  cv::Mat bent;
  cv::exp(values / 100.0, bent);
  const cv::Mat levels = equal_levels(values, 8);
  CHECK(cv::countNonZero(levels != equal_levels(bent, 8)) == 0);
  for (int level = 0; level < 8; ++level) CHECK(cv::countNonZero(levels == level) == 50);
}
