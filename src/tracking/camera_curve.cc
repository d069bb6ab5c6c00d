// SPDX-License-Identifier: Apache-2.0
#include "tracking/camera_curve.h"

#include "imaging/frame_source.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

constexpr double kPower = 2.2, kFullLight = 255.0;

}  // namespace

cv::Mat CameraCurve::light_of(const cv::Mat& levels) const {
  if (levels.depth() == CV_8U) {  // 256 powers instead of one a pixel
    cv::Mat all(1, 256, CV_32F);
    for (int level = 0; level < 256; ++level) all.at<float>(level) = float(level);
    cv::Mat light;
    cv::LUT(levels, light_of(all), light);
    return light;
  }
  const double scale = 1.0 / (white_level - black_level);
  cv::Mat light;
  levels.convertTo(light, CV_32F, scale, -black_level * scale);
  cv::pow(cv::max(light, 0.0), kPower, light);
  return light * kFullLight;
}

StoredLevel CameraCurve::level_of(double light) const {
  const double part = std::max(light / kFullLight, 1e-3);
  const double above = (white_level - black_level) * std::pow(part, 1.0 / kPower);
  return {black_level + above, above / (kPower * kFullLight * part)};
}

CameraCurve curve_of(const ClipInfo& clip) {
  return clip.video_range ? CameraCurve::video_range() : CameraCurve{};
}

LevelTable::LevelTable(const CameraCurve& curve) {
  for (int i = 0; i <= int(kSteps) + 1; ++i) {
    const double root = i / kSteps;
    at_.push_back(curve.level_of(root * root * kBrightest));
  }
}

}  // namespace swingloss
