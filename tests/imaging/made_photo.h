// SPDX-License-Identifier: Apache-2.0
/// \file made_photo.h
/// Coded photographs for the tests, as bytes.
#pragma once

#include <string>

#include <opencv2/core.hpp>

namespace swingloss::test {

/// The picture coded by its file ending (".jpg", ".png", ".tiff", ".bmp").
[[nodiscard]] std::string coded(const std::string& ending, const cv::Mat& picture);

/// A JPEG with an EXIF block that holds the orientation alone, in the given byte order.
[[nodiscard]] std::string jpeg_with_orientation(const cv::Mat& picture,
                                                int orientation,
                                                bool little);

/// The picture laid as a camera stores it that then asks for `orientation` (1, 3, 6 or 8).
[[nodiscard]] cv::Mat stored_for(const cv::Mat& upright, int orientation);

}  // namespace swingloss::test
