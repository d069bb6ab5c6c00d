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

/// Lines weaker than this are not told from plain texture (tests/surface/layer_course_test.cc):
/// of 111 rendered faces without lines (tests/bench/render_faces.cc, seeds 1 to 180) the
/// highest had 0.19, and the nine of 68 with lines that had 0.2 or more gave the distance
/// within 1.5 %.
inline constexpr double kClearLines = 0.20;

/// The lip at the far side; none without the root of a notch, or where two halves hang
/// together.
[[nodiscard]] Lip lip_of(const FaceArea& area, const SectionShape& shape);

/// Lip and joined halves from outline and shape, drawn into `marks` too. \param lip  of
/// lip_of()
[[nodiscard]] PartingTraits parting_of(const PlanePicture& plane,
                                       const FaceArea& area,
                                       const SectionShape& shape,
                                       const Lip& lip,
                                       SeenMarks& marks);

}  // namespace swingloss
