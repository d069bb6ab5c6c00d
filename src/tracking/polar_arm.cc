// SPDX-License-Identifier: Apache-2.0
#include "tracking/polar_arm.h"

#include <algorithm>
#include <cmath>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

constexpr int kBins = kDirectionBins;

/// Whether the arm was at that radius and bin in more than four pictures of ten.
bool is_arm(const PolarArm& arm, int r, int b) {
  return arm.presence.at<float>(r, wrapped_bin(b)) > 0.4F;
}

}  // namespace

PolarMap::PolarMap(const cv::Point2d& axle_px, const cv::Size& size) {
  const int radii = int(std::hypot(size.width, size.height));
  map_x_.create(radii, kBins, CV_32F);
  map_y_.create(radii, kBins, CV_32F);
  for (int r = 0; r < radii; ++r) {
    for (int b = 0; b < kBins; ++b) {
      map_x_.at<float>(r, b) = float(axle_px.x + (r + 1.0) * std::sin(b * kDirectionBin_rad));
      map_y_.at<float>(r, b) = float(axle_px.y + (r + 1.0) * std::cos(b * kDirectionBin_rad));
    }
  }
}

cv::Mat PolarMap::operator()(const cv::Mat& picture, double outside) const {
  cv::Mat out;
  cv::remap(
      picture, out, map_x_, map_y_, cv::INTER_LINEAR, cv::BORDER_CONSTANT, cv::Scalar(outside));
  return out;
}

cv::Mat turned(const cv::Mat& polar, int bin) {
  const int shift = wrapped_bin(bin);
  if (shift == 0) return polar;
  cv::Mat out;
  cv::hconcat(polar.colRange(shift, kBins), polar.colRange(0, shift), out);
  return out;
}

PolarExtent extent_of(const PolarArm& arm) {
  PolarExtent out;
  for (int r = 0; r < arm.presence.rows; ++r) {
    int widest = 0;
    for (int b = -60; b <= 60; ++b) {
      if (is_arm(arm, r, b)) widest = std::max(widest, std::abs(b));
    }
    const bool ahead = is_arm(arm, r, 0) || widest > 0;
    if (ahead) {
      out.length_px = r + 1.0;
      out.half_width_px =
          std::max(out.half_width_px, (r + 1.0) * std::sin(widest * kDirectionBin_rad));
    }
    for (int b = 150; b <= 210; ++b) {
      if (is_arm(arm, r, b)) out.behind_px = r + 1.0;
    }
  }
  return out;
}

int bins_to_far_half(const PolarArm& arm, const std::vector<int>& path) {
  constexpr int kShort = 45;
  const auto [lowest, highest] = std::minmax_element(path.begin(), path.end());
  if (*highest - *lowest > kShort) return 0;
  int length = 0;
  for (int r = 0; r < arm.presence.rows; ++r) {
    for (int b = -60; b <= 60; ++b) length = is_arm(arm, r, b) ? r + 1 : length;
  }
  double area = 0.0, moment = 0.0;
  for (int r = length / 2; r < length; ++r) {
    for (int b = -60; b <= 60; ++b) {
      if (!is_arm(arm, r, b)) continue;
      area += r + 1.0;
      moment += b * (r + 1.0);
    }
  }
  return area > 0.0 ? int(std::lround(moment / area)) : 0;
}

}  // namespace swingloss
