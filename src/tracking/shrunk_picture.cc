// SPDX-License-Identifier: Apache-2.0
#include "tracking/shrunk_picture.h"

#include <algorithm>

#include <opencv2/imgproc.hpp>

namespace swingloss {

cv::Mat shrunk_picture(const cv::Mat& picture, int factor) {
  const cv::Size size(std::max(1, picture.cols / factor), std::max(1, picture.rows / factor));
  const cv::Rect whole_squares = cv::Rect({}, size * factor) & cv::Rect({}, picture.size());
  cv::Mat small;
  cv::resize(picture(whole_squares), small, size, 0, 0, cv::INTER_AREA);
  return small;
}

Eigen::Vector2d rescaled(const Eigen::Vector2d& place_px, double scale) {
  const auto corner = Eigen::Vector2d::Constant(0.5);
  return (place_px + corner) * scale - corner;
}

}  // namespace swingloss
