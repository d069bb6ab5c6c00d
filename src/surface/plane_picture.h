// SPDX-License-Identifier: Apache-2.0
/// \file plane_picture.h
/// The part of a photograph that holds the bars, seen square.
#pragma once

#include "view/card_view.h"

#include <optional>

#include <opencv2/core.hpp>

namespace swingloss {

/// Pixels of a plane. With a card: its window, in metres of the card. Without: the photograph
/// itself, made smaller where it is large; a "metre" is then one pixel of the photograph.
struct PlanePicture {
  cv::Mat bgr;     ///< CV_8UC3, as photographed
  cv::Mat linear;  ///< CV_32FC3, light by the display curve of sRGB, 0 to 1
  double px_per_m = 1.0;
  Eigen::Vector2d origin_m{0.0, 0.0};  ///< of the top left pixel's upper left corner
  std::optional<CardView> card;

  [[nodiscard]] Eigen::Vector2d place_of(const Eigen::Vector2d& px) const {
    return origin_m + (px + Eigen::Vector2d::Constant(0.5)) / px_per_m;
  }
  /// To pixels of the upright photograph.
  [[nodiscard]] Eigen::Vector2d photo_px(const Eigen::Vector2d& px) const;
};

/// The window of the card, at the photograph's own resolution (40 pixels a millimetre at most).
[[nodiscard]] PlanePicture window_of(const cv::Mat& photo, const CardView& card);

/// The photograph without a scale, its longer side 1600 pixels at most.
[[nodiscard]] PlanePicture without_scale(const cv::Mat& photo);

/// Light of 8-bit levels [IEC61966-2-1]. \return CV_32FC3
[[nodiscard]] cv::Mat linear_light(const cv::Mat& bgr);

}  // namespace swingloss
