// SPDX-License-Identifier: Apache-2.0
#include "report/drawing.h"

#include "core/expects.h"

#include <vector>

#include <opencv2/core.hpp>
#include <opencv2/imgcodecs.hpp>

namespace swingloss {
namespace {

std::string encoded(const cv::Mat& bgr, const char* ending, const std::vector<int>& settings) {
  std::vector<unsigned char> bytes;
  expects(cv::imencode(ending, bgr, bytes, settings), "the picture could not be encoded");
  return {bytes.begin(), bytes.end()};
}

}  // namespace

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
