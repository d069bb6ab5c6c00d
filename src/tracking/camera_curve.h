// SPDX-License-Identifier: Apache-2.0
/// \file camera_curve.h
/// Between stored brightness and light.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include <opencv2/core.hpp>

namespace swingloss {

struct ClipInfo;

/// A stored level and how fast it grows with the light.
struct StoredLevel {
  double level = 0.0, by_light = 0.0;
};

/// A sensor adds up light, over a pixel and over the exposure, and only then does the camera
/// store a brightness that grows slower than the light. So blur mixes light, not levels: a
/// dark arm that sweeps over a bright wall looks narrower than mixed levels would have it, by a
/// tenth of the blur on either edge. Curves differ from camera to camera; the power of 1/2.2,
/// close to that of [IEC61966-2-1], takes most of it out.
///
/// Light runs from 0 (black) to 255 (white).
struct CameraCurve {
  double black_level = 0.0, white_level = 255.0;

  /// Video range, as most clips store it, leaves room below black and above white
  /// [ITU-R-BT709].
  static CameraCurve video_range() { return {16.0, 235.0}; }

  /// \param levels CV_8UC1 or CV_32FC1 \return light, CV_32FC1
  [[nodiscard]] cv::Mat light_of(const cv::Mat& levels) const;

  /// Below a thousandth of full light the curve goes on as it is there: no endless slope.
  [[nodiscard]] StoredLevel level_of(double light) const;
};

/// As a clip stores its brightness.
[[nodiscard]] CameraCurve curve_of(const ClipInfo& clip);

/// CameraCurve::level_of() from a table, for pictures: within 0.002 of a level and a thousandth
/// of the slope; beside the thousandth of full light, where the curve has its corner, within a
/// tenth of a level.
class LevelTable {
 public:
  explicit LevelTable(const CameraCurve& curve = {});
  [[nodiscard]] StoredLevel level_of(double light) const {
    const double place = kSteps * std::sqrt(std::clamp(light, 0.0, kBrightest) / kBrightest);
    const auto i = static_cast<std::size_t>(place);
    const double part = place - static_cast<double>(i);
    const StoredLevel &low = at_[i], &high = at_[i + 1];
    return {low.level + part * (high.level - low.level),
            low.by_light + part * (high.by_light - low.by_light)};
  }

 private:
  // The root spreads the dark end, where the curve bends.
  static constexpr double kSteps = 2048.0, kBrightest = 512.0;
  std::vector<StoredLevel> at_;  // over the root of the light, evenly
};

}  // namespace swingloss
