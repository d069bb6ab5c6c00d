// SPDX-License-Identifier: Apache-2.0
/// \file fit_section.h
/// A bar's end as a rectangle with a notch: its sides to parts of a pixel, its notched side.
#pragma once

#include "surface/find_faces.h"

#include <array>
#include <vector>

namespace swingloss {

/// One side of the outline in pixels of the plane picture: a straight line through the places
/// where brightness and colour are half way from ground to bar.
struct SideLine {
  Eigen::Vector2d middle_px, along;  ///< `along` has length 1, clockwise round the bar
  double u_px = 0.0;                 ///< of the line's place, across it
  Eigen::Vector2d from_px, to_px;    ///< its ends, where the neighbours cross it
  struct Point {
    double along_px = 0.0, off_px = 0.0;  ///< from the middle; outward of the line
  };
  std::vector<Point> points;  ///< all that were found, those near the corners too
};

/// What was drawn out of the far side and stands beyond it.
struct Lip {
  double reach_px = 0.0;  ///< how far it stands out; 0: there is none
  /// Where the far side is beside it, outward of the fitted line, which the lip draws to
  /// itself: mostly below 0.
  double foot_px = 0.0;
  double mask_foot_px = 0.0;  ///< the same of the area's outline, which lies a little off
};

/// The rectangle and, where there is one, the root of the notch.
struct SectionShape {
  std::array<SideLine, 4> sides;  ///< clockwise as seen; the notched side first where found
  bool notch_found = false;
  bool joined = false;  ///< opposite sides have a root each, as deep: two halves in one outline
  double notch_contrast = 0.0;  ///< of the root, in scatters of the rows on either side
  double notch_depth_px = 0.0;  ///< from the notched side to the root
  double u_notch_depth_px = 0.0;
  /// Corners of the part that broke: root left, root right, far right, far left, as seen with
  /// the notch on top.
  std::array<Eigen::Vector2d, 4> broken_px;
};

/// Fits the outline of one area. \return Failure `odd-outline`: no four sides can be told
[[nodiscard]] Result<SectionShape> fit_section(const PlanePicture& plane, const FaceArea& area);

/// Looks for the root of a notch parallel to each side, from 6 to 45 % of the way across: the
/// place where brightness, colour or texture of the rows steps most, against the scatter of the
/// rows next to it. Turns the sides so that the notched one comes first. Places it by eight
/// strips across the bar, whose scatter is its uncertainty.
void find_notch(const PlanePicture& plane, SectionShape& shape);

/// Light at a place between pixels; the nearest pixel outside the picture.
[[nodiscard]] cv::Vec3f light_at(const cv::Mat& linear, const Eigen::Vector2d& px);

}  // namespace swingloss
