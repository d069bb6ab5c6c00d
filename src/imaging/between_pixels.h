// SPDX-License-Identifier: Apache-2.0
/// \file between_pixels.h
/// Values at places between pixels.
#pragma once

#include <algorithm>
#include <cmath>

#include <opencv2/core.hpp>

namespace swingloss {

/// Bilinear; (0,0) is the centre of the top-left pixel. Outside, the value at the nearest edge.
/// \param values  CV_32FC1, 2 x 2 or larger
[[nodiscard]] inline double between_pixels(const cv::Mat& values, double x, double y) {
  const int ix = std::clamp(int(std::floor(x)), 0, values.cols - 2);
  const int iy = std::clamp(int(std::floor(y)), 0, values.rows - 2);
  const double fx = std::clamp(x - ix, 0.0, 1.0), fy = std::clamp(y - iy, 0.0, 1.0);
  const float* top = values.ptr<float>(iy) + ix;
  const float* low = values.ptr<float>(iy + 1) + ix;
  return (1 - fy) * ((1 - fx) * double(top[0]) + fx * double(top[1])) +
         fy * ((1 - fx) * double(low[0]) + fx * double(low[1]));
}

}  // namespace swingloss
