// SPDX-License-Identifier: Apache-2.0
/// \file polar_arm.h
/// Pictures unwrapped about the axle, and the arm in them. Internal to tracking.
///
/// An unwrapped picture has a row a radius (the first is 1 px out) and a column a direction:
/// kDirectionBins of them, 0 down the picture, growing toward the right.
#pragma once

#include "tracking/best_path.h"

#include <vector>

#include <opencv2/core.hpp>

namespace swingloss {

/// Unwraps pictures of one size about one axle.
class PolarMap {
 public:
  PolarMap(const cv::Point2d& axle_px, const cv::Size& size);
  /// \param outside  level of what lies beyond the picture
  [[nodiscard]] cv::Mat operator()(const cv::Mat& picture, double outside) const;

 private:
  cv::Mat map_x_, map_y_;
};

/// The unwrapped picture turned so that the bin comes first.
[[nodiscard]] cv::Mat turned(const cv::Mat& polar, int bin);

/// The arm in unwrapped form, turned so that it points to bin 0.
struct PolarArm {
  cv::Mat look;      ///< CV_32F: its mean level
  cv::Mat presence;  ///< CV_32F, 0..1: in how many of the pictures it was there
};

/// How far the arm's presence reaches [px].
struct PolarExtent {
  double length_px = 0.0, half_width_px = 0.0, behind_px = 0.0;
};
[[nodiscard]] PolarExtent extent_of(const PolarArm& arm);

/// Whole bins from bin 0 to the middle of the arm's far half, on a short arc: its axle may be
/// off, and most radii then lie along a line that crosses the arm. On a long one bin 0 is
/// right, and the far half may have its shadow beside it.
/// \param path  the arm's bins, unwrapped
[[nodiscard]] int bins_to_far_half(const PolarArm& arm, const std::vector<int>& path);

}  // namespace swingloss
