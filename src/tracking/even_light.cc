// SPDX-License-Identifier: Apache-2.0
#include "tracking/even_light.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace swingloss {
namespace {

double brightness_of(const cv::Mat& picture, const cv::Mat& still) {
  constexpr float kDark = 16.0F, kBright = 245.0F;  // black, burnt out: these say nothing
  const auto tells = [](float level) { return level > kDark && level < kBright; };
  std::vector<float> ratios;
  for (int row = 0; row < still.rows; row += 2) {
    for (int column = 0; column < still.cols; column += 2) {
      const auto seen = static_cast<float>(picture.at<uchar>(row, column));
      const auto usual = static_cast<float>(still.at<uchar>(row, column));
      if (tells(seen) && tells(usual)) ratios.push_back(seen / usual);
    }
  }
  constexpr std::size_t kFew = 100;
  if (ratios.size() < kFew) return 1.0;
  // Levels are whole numbers: the mean of the middle third is finer than the median.
  std::sort(ratios.begin(), ratios.end());
  const std::size_t from = ratios.size() / 3, to = ratios.size() - from;
  double sum = 0.0;
  for (std::size_t i = from; i < to; ++i) sum += static_cast<double>(ratios[i]);
  return sum / static_cast<double>(to - from);
}

}  // namespace

cv::Mat in_light_of(const cv::Mat& usual, const cv::Mat& picture) {
  constexpr double kSteady = 0.01;
  const double brightness = brightness_of(picture, usual);
  if (std::abs(brightness - 1.0) < kSteady) return picture;
  cv::Mat out;
  picture.convertTo(out, CV_8U, 1.0 / brightness);
  return out;
}

}  // namespace swingloss
