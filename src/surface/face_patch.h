// SPDX-License-Identifier: Apache-2.0
/// \file face_patch.h
/// The broken face cut out and brought to one size, one way up, one brightness.
#pragma once

#include "surface/plane_picture.h"

#include <array>

namespace swingloss {

/// Side of a square as large as every patch [px]: a hundredth of the face is 1.8 px, fine
/// enough for its texture and coarse enough that a phone's blur does not matter.
inline constexpr double kPatch_px = 180.0;

/// A face, the crack running from top to bottom. Logarithms of light, so that exposure and the
/// colour of the light are constants, and the medians taken off remove them.
struct FacePatch {
  cv::Mat brightness;             ///< CV_32FC1, natural logarithm of light less its median
  cv::Mat red_ratio, blue_ratio;  ///< log of red and blue over green, less the medians
  /// The medians that were taken off: of brightness, red ratio and blue ratio.
  std::array<double, 3> medians{};
  double source_px = 0.0;      ///< root of the face's area in the photograph
  double clipped_share = 0.0;  ///< of pixels with a channel at 254 or 255
};

/// \param corners_px  of the plane picture: root left, root right, far right, far left; the
/// outer
///   `inset` of each way is left out
[[nodiscard]] FacePatch cut_patch(const PlanePicture& plane,
                                  const std::array<Eigen::Vector2d, 4>& corners_px,
                                  double inset = 0.04);

}  // namespace swingloss
