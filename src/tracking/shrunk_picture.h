// SPDX-License-Identifier: Apache-2.0
/// \file shrunk_picture.h
/// A picture with a whole number of times fewer pixels a side, and where its pixels lie.
#pragma once

#include <Eigen/Core>
#include <opencv2/core.hpp>

namespace swingloss {

/// Each pixel is the mean of a square of factor x factor; what is left over at the right and
/// below is cut off. Shares nothing with the picture. \pre factor >= 1
[[nodiscard]] cv::Mat shrunk_picture(const cv::Mat& picture, int factor);

/// A place in pictures with `scale` times as many pixels a side. (0, 0) is the centre of a
/// pixel, whose corner stays where it is.
[[nodiscard]] Eigen::Vector2d rescaled(const Eigen::Vector2d& place_px, double scale);

}  // namespace swingloss
