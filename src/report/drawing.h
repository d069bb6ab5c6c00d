// SPDX-License-Identifier: Apache-2.0
/// \file drawing.h
/// What all drawn plates share: the palette in OpenCV's terms, and encoding. Internal to
/// report.
#pragma once

#include "report/palette.h"

#include <string>

#include <Eigen/Core>

namespace cv {
class Mat;
template <typename T>
class Scalar_;
}  // namespace cv

namespace swingloss {

/// The part's colour on light ground as blue, green, red.
[[nodiscard]] cv::Scalar_<double> colour_of(const Swatch& swatch);

/// The fitted arm on a picture: a thin line with a dark rim, so that the arm beneath stays
/// visible, a ring about the axle and one about the arm's end. Pixel centres have whole
/// coordinates. \param thin_px  width of the line
void draw_arm(cv::Mat& bgr,
              const Eigen::Vector2d& axle_px,
              const Eigen::Vector2d& end_px,
              int thin_px);

/// Bytes of a PNG file. \param bgr  CV_8UC3
[[nodiscard]] std::string png_bytes(const cv::Mat& bgr);

/// Bytes of a JPEG file. \param quality  0 worst to 100 best
[[nodiscard]] std::string jpeg_bytes(const cv::Mat& bgr, int quality);

}  // namespace swingloss
