// SPDX-License-Identifier: Apache-2.0
/// \file drawn_bar.h
/// A flat bar that swings before a wall with cards on it, drawn without any camera.
#pragma once

#include "core/angle.h"

#include <cmath>
#include <vector>

#include <opencv2/imgproc.hpp>

namespace swingloss::test {

inline cv::Mat wall(int width, int height) {
  cv::Mat picture(height, width, CV_8UC1, cv::Scalar(190));
  cv::RNG random(7);
  for (int i = 0; i < 60; ++i) {
    const cv::Point corner(random.uniform(0, width), random.uniform(0, height));
    cv::rectangle(picture,
                  corner,
                  corner + cv::Point(random.uniform(4, 30), random.uniform(4, 20)),
                  cv::Scalar(random.uniform(140, 230)),
                  cv::FILLED);
  }
  return picture;
}

/// A pixel of which `part` is covered by one level and the rest by another. A camera adds up
/// light, so that is what is mixed; an edge mixed in levels looks shifted by a fifth of a
/// pixel.
inline uchar mixed_level(double part, double covering, double covered) {
  constexpr double kPower = 2.2;
  const double light =
      part * std::pow(covering, kPower) + (1.0 - part) * std::pow(covered, kPower);
  return cv::saturate_cast<uchar>(std::pow(light, 1.0 / kPower));
}

/// A flat bar: each pixel is covered by as many of its 8 x 8 parts as lie in the outline.
/// (OpenCV's own antialiased edges are off by tenths of a pixel.)
inline cv::Mat with_bar(const cv::Mat& background, const cv::Point2d& axle, double theta_rad) {
  constexpr int kParts = 8, kShift = 4;
  const double c = std::cos(theta_rad), s = std::sin(theta_rad);
  std::vector<cv::Point> corners;
  for (const cv::Point2d b : {cv::Point2d(-7, -20),
                              cv::Point2d(7, -20),
                              cv::Point2d(7, 95),
                              cv::Point2d(18, 95),
                              cv::Point2d(18, 125),
                              cv::Point2d(-18, 125),
                              cv::Point2d(-18, 95),
                              cv::Point2d(-7, 95)}) {
    const cv::Point2d p = axle + cv::Point2d(b.x * c + b.y * s, b.y * c - b.x * s);
    // The centre of a pixel has whole numbers; that of its first part lies half a part inside.
    const cv::Point2d part =
        double(kParts) * (p + cv::Point2d(0.5, 0.5)) - cv::Point2d(0.5, 0.5);
    corners.emplace_back(int(std::lround(part.x * (1 << kShift))),
                         int(std::lround(part.y * (1 << kShift))));
  }
  cv::Mat fine = cv::Mat::zeros(background.size() * kParts, CV_8UC1), cover;
  cv::fillPoly(
      fine, std::vector<std::vector<cv::Point>>{corners}, cv::Scalar(255), cv::LINE_8, kShift);
  cv::resize(fine, cover, background.size(), 0.0, 0.0, cv::INTER_AREA);
  cv::Mat picture = background.clone();
  for (int row = 0; row < picture.rows; ++row) {
    for (int column = 0; column < picture.cols; ++column) {
      const double part = double(cover.at<uchar>(row, column)) / 255.0;
      uchar& level = picture.at<uchar>(row, column);
      level = mixed_level(part, 60.0, double(level));
    }
  }
  return picture;
}

inline std::vector<double> swing_deg() {
  std::vector<double> out(12, 110.0);
  for (int k = 0; k < 110; ++k)
    out.push_back(110.0 * std::exp(-0.002 * k) * std::cos(0.075 * k));
  return out;
}

inline cv::Point2d bar_axle_px() { return {205.3, 131.7}; }

inline cv::Mat bar_wall() { return wall(400, 300); }

/// With noise of one level, as no camera is without: levels rounded alike in every picture
/// would make steps that move with the bar.
inline std::vector<cv::Mat> bar_clip() {
  const cv::Mat background = bar_wall();
  cv::RNG random(5);
  std::vector<cv::Mat> pictures;
  for (double theta : swing_deg()) {
    const cv::Mat clean = with_bar(background, bar_axle_px(), Angle::from_deg(theta).rad());
    cv::Mat noise(clean.size(), CV_16S), noisy;
    random.fill(noise, cv::RNG::NORMAL, 0.0, 1.0);
    cv::add(clean, noise, noisy, cv::noArray(), CV_8U);
    pictures.push_back(noisy);
  }
  return pictures;
}

}  // namespace swingloss::test
