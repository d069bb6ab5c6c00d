// SPDX-License-Identifier: Apache-2.0
#include "report/drawing.h"

#include "core/expects.h"

#include <cmath>
#include <utility>
#include <vector>

#include <opencv2/core.hpp>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

std::string encoded(const cv::Mat& bgr, const char* ending, const std::vector<int>& settings) {
  std::vector<unsigned char> bytes;
  expects(cv::imencode(ending, bgr, bytes, settings), "the picture could not be encoded");
  return {bytes.begin(), bytes.end()};
}

constexpr int kFractionBits = 4;  ///< of OpenCV's subpixel drawing

cv::Point in_fractions(const Eigen::Vector2d& px) {
  const double unit = 1 << kFractionBits;
  return {static_cast<int>(std::lround(unit * px.x())),
          static_cast<int>(std::lround(unit * px.y()))};
}

}  // namespace

void draw_arm(cv::Mat& bgr,
              const Eigen::Vector2d& axle_px,
              const Eigen::Vector2d& end_px,
              int thin_px) {
  const cv::Scalar arm(60, 190, 255);  // blue, green, red
  const cv::Scalar rim(20, 20, 20);
  const cv::Point from = in_fractions(axle_px);
  const cv::Point to = in_fractions(end_px);
  for (const auto& [colour, width] : {std::pair(rim, 3 * thin_px), std::pair(arm, thin_px)}) {
    const auto ring = [&, paint = colour, wide = width](const cv::Point& centre, int times) {
      const int radius = (times * thin_px) << kFractionBits;
      cv::circle(bgr, centre, radius, paint, wide, cv::LINE_AA, kFractionBits);
    };
    cv::line(bgr, from, to, colour, width, cv::LINE_AA, kFractionBits);
    ring(from, 7);
    ring(to, 10);
  }
}

cv::Scalar_<double> colour_of(const Swatch& swatch) {
  const std::string digits = swatch.light;
  const auto part = [&](std::size_t from) {
    return static_cast<double>(std::stoi(digits.substr(from, 2), nullptr, 16));
  };
  return {part(5), part(3), part(1)};
}

std::string png_bytes(const cv::Mat& bgr) {
  return encoded(bgr, ".png", {cv::IMWRITE_PNG_COMPRESSION, 6});
}

std::string jpeg_bytes(const cv::Mat& bgr, int quality) {
  return encoded(bgr, ".jpg", {cv::IMWRITE_JPEG_QUALITY, quality});
}

}  // namespace swingloss
