// SPDX-License-Identifier: Apache-2.0
#include "surface/plane_picture.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

constexpr double kMost_px_per_m = 40000.0;
constexpr int kLongest_px = 1600;

std::array<float, 256> light_of_levels() {
  std::array<float, 256> light{};
  for (std::size_t i = 0; i < light.size(); ++i) {
    const double x = double(i) / 255.0;
    light[i] = float(x <= 0.04045 ? x / 12.92 : std::pow((x + 0.055) / 1.055, 2.4));
  }
  return light;
}

}  // namespace

cv::Mat linear_light(const cv::Mat& bgr) {
  static const std::array<float, 256> light = light_of_levels();
  cv::Mat linear(bgr.size(), CV_32FC3);
  for (int row = 0; row < bgr.rows; ++row) {
    const auto* from = bgr.ptr<cv::Vec3b>(row);
    auto* to = linear.ptr<cv::Vec3f>(row);
    for (int column = 0; column < bgr.cols; ++column) {
      for (int k = 0; k < 3; ++k) to[column][k] = light[from[column][k]];
    }
  }
  return linear;
}

Eigen::Vector2d PlanePicture::photo_px(const Eigen::Vector2d& px) const {
  const Eigen::Vector2d place = place_of(px);
  return card ? card->map.pixel_of(place)
              : Eigen::Vector2d(place - Eigen::Vector2d::Constant(0.5));
}

PlanePicture window_of(const cv::Mat& photo, const CardView& card) {
  PlanePicture plane;
  plane.card = card;
  plane.px_per_m = std::min(kMost_px_per_m, card.px_per_m);
  plane.origin_m = card.card.window_m.low_m;
  const Eigen::Vector2d size_px =
      (card.card.window_m.high_m - card.card.window_m.low_m) * plane.px_per_m;
  const int columns = int(size_px.x());
  const int rows = int(size_px.y());
  cv::Mat from_x(rows, columns, CV_32FC1);
  cv::Mat from_y(rows, columns, CV_32FC1);
  for (int row = 0; row < rows; ++row) {
    for (int column = 0; column < columns; ++column) {
      const Eigen::Vector2d px = plane.photo_px({double(column), double(row)});
      from_x.at<float>(row, column) = float(px.x());
      from_y.at<float>(row, column) = float(px.y());
    }
  }
  cv::remap(photo, plane.bgr, from_x, from_y, cv::INTER_CUBIC, cv::BORDER_REPLICATE);
  plane.linear = linear_light(plane.bgr);
  return plane;
}

PlanePicture without_scale(const cv::Mat& photo) {
  PlanePicture plane;
  const double shrink = std::min(1.0, double(kLongest_px) / std::max(photo.cols, photo.rows));
  cv::resize(photo, plane.bgr, {}, shrink, shrink, cv::INTER_AREA);
  plane.px_per_m = double(plane.bgr.cols) / photo.cols;
  plane.linear = linear_light(plane.bgr);
  return plane;
}

}  // namespace swingloss
