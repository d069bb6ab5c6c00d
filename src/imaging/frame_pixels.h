// SPDX-License-Identifier: Apache-2.0
/// \file frame_pixels.h
/// From a decoder's picture to matrices. Internal to imaging.
#pragma once

#include "imaging/libav_handles.h"

#include <opencv2/core.hpp>

namespace swingloss {

/// Turns decoded pictures of one clip into brightness and colour; keeps what it needs for that
/// from picture to picture.
class FramePixels {
 public:
  /// Brightness as stored, CV_8UC1, in the stored orientation. For sources that store
  /// brightness this is their Y plane itself, no colour conversion: 8-bit as is (a view that
  /// lives as long as `frame`), deeper ones divided by 2^(depth - 8) and rounded, at most 255.
  /// Sources that store red, green and blue are converted (full range, ITU-R BT.601 weights).
  [[nodiscard]] cv::Mat luma(const AVFrame& frame);

  /// Whether luma() runs from 16 to 235 (video range), not from 0 to 255.
  [[nodiscard]] static bool video_range(const AVFrame& frame);

  /// CV_8UC3 in the stored orientation, full range, by the matrix and range that the frame
  /// states; BT.709 for 720 rows and more, else BT.601, where it states none.
  [[nodiscard]] cv::Mat bgr(const AVFrame& frame);

 private:
  ScalerHandle scaler_;
};

/// Widens (ratio > 1) or heightens (ratio < 1) a picture so that its pixels become square;
/// never shrinks. The scale is the exact ratio, not that of the rounded sizes, and pixel
/// centres map as (x + 0.5) ratio - 0.5. \param pixel_aspect_ratio pixel width / height, > 0
[[nodiscard]] cv::Mat squared(const cv::Mat& picture, double pixel_aspect_ratio);

/// Rows of the picture from which on BT.709 is the usual matrix.
inline constexpr int kHighDefinitionRows_px = 720;

}  // namespace swingloss
