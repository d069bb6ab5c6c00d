// SPDX-License-Identifier: Apache-2.0
/// \file seen_marks.h
/// Where on the photograph the features of a face were seen.
#pragma once

#include "surface/appearance.h"
#include "surface/fit_section.h"

#include <array>

namespace swingloss {

/// A patch and the place that it was cut from.
struct PatchPlace {
  const PlanePicture& plane;
  std::array<Eigen::Vector2d, 4> corners;  ///< as for cut_patch(), in its pixels
  double inset = 0.04;
  cv::Size patch_px;

  /// Pixel of the upright photograph of a pixel of the patch.
  [[nodiscard]] Eigen::Vector2d photo_px(double x, double y) const;
};

/// Outlines of a mask of the patch on the photograph; parts below 1 / `parts_of_face` of it are
/// left out.
[[nodiscard]] std::vector<Polygon> outlines_of(const PatchPlace& place,
                                               const cv::Mat& mask,
                                               double parts_of_face);

/// Glints, specks, even lines and the grid of roughness; the outline's own marks stay empty.
/// Lines are drawn where their strength is at least kClearLines.
[[nodiscard]] SeenMarks marks_of(const PatchPlace& place,
                                 const FacePatch& patch,
                                 const Appearance& look);

/// Lines weaker than this are not told from plain texture (tests/surface/layer_course_test.cc).
inline constexpr double kClearLines = 0.25;

/// Lip and joined halves from outline and shape, drawn into `marks` too.
[[nodiscard]] PartingTraits parting_of(const PlanePicture& plane,
                                       const FaceArea& area,
                                       const SectionShape& shape,
                                       SeenMarks& marks);

}  // namespace swingloss
