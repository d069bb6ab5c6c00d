// SPDX-License-Identifier: Apache-2.0
/// \file dot_centre.h
/// The centre of a round mark in a picture, without a look that was learnt before.
#pragma once

#include <optional>

#include <Eigen/Core>
#include <opencv2/core.hpp>

namespace swingloss {

/// Where a round mark is thought to be. (0,0) is the centre of the top-left pixel.
struct DotPlace {
  Eigen::Vector2d pixel;
  double window_px = 0.0;  ///< radius about it that the mark fills, soft edge included, > 0
};

struct DotCentre {
  Eigen::Vector2d pixel;
  double u_px = 0.0;  ///< standard uncertainty, each way
};

/// Centre of gravity of the light that the mark has less, or more, than what surrounds it. The
/// surroundings are a plane through the ring just outside the window.
///
/// Why not the learnt look: a look is learnt from frames that were aligned by it, so what is
/// off in all frames of one side agrees with itself. Blur moves no centre of gravity: in light
/// it spreads evenly over the way that the mark goes while the shutter is open, and a window
/// that is centred on it cuts off as much on either side.
///
/// \param light  CV_32FC1, proportional to light
/// \return nothing where the ring is not inside the picture, the mark does not stand out from
///         it, or it is so uneven (another edge in it) that the centre would be off by over
///         0.3 px
[[nodiscard]] std::optional<DotCentre> dot_centre(const cv::Mat& light, const DotPlace& start);

}  // namespace swingloss
