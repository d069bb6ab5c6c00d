// SPDX-License-Identifier: Apache-2.0
/// \file find_faces.h
/// Where the ends of broken bars lie in a picture.
#pragma once

#include "core/result.h"
#include "surface/measures.h"
#include "surface/plane_picture.h"

#include <array>
#include <vector>

namespace swingloss {

/// One area that differs from the ground.
struct FaceArea {
  cv::Mat mask;     ///< CV_8UC1, of the plane picture's size; 255 inside
  Polygon outline;  ///< in pixels of the plane picture, to a pixel
  double area_px = 0.0;
  bool whole_picture = false;  ///< no ground was seen: the face fills the picture
};

/// Corners of the smallest rectangle around an area, clockwise as seen.
[[nodiscard]] std::array<Eigen::Vector2d, 4> box_around(const FaceArea& area);

/// Areas that differ from the ground around them, row by row and from left to right.
///
/// The ground is what lies along the edge of the picture (the window of the card); its colour
/// may change evenly from side to side, without a card also as a lens darkens its corners. A
/// pixel belongs to a bar when its colour is farther from the ground's than the ground
/// scatters, and than a fifth of what the bars differ by; so no fixed level is used, and a
/// white bar on paper is found when it is found and else refused.
///
/// \return Failure: `no-bar` (nothing differs enough), `bar-cut-off` (an area reaches over the
///   edge of the card's window)
[[nodiscard]] Result<std::vector<FaceArea>> find_faces(const PlanePicture& plane);

}  // namespace swingloss
