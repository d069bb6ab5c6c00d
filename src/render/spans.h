// SPDX-License-Identifier: Apache-2.0
/// \file spans.h
/// Outlines to runs of samples.
#pragma once

#include "render/pinhole.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace swingloss::render {

using Outline = std::vector<cv::Point2d>;

/// A lattice of point samples over the picture, `per_pixel` along either axis. Sample (i, j) is
/// at column (i + shift.x) / per_pixel - 0.5, row likewise.
struct SampleGrid {
  int per_pixel = 1;
  cv::Point2d shift{0.5, 0.5};     ///< in [0, 1)
  int columns = 0;                 ///< samples in a row
  int first_row = 0, end_row = 0;  ///< rows of samples to be filled

  [[nodiscard]] double column_of(double x_px) const {
    return (x_px + 0.5) * per_pixel - shift.x;
  }
  [[nodiscard]] double row_of(double y_px) const { return (y_px + 0.5) * per_pixel - shift.y; }
};

/// Picture of a flat convex outline in the room: cut well outside the field and 5 cm in front
/// of the lens, edges broken up where the lens bends them. Empty when nothing is left.
[[nodiscard]] Outline project_outline(const Pinhole& camera,
                                      const std::vector<cv::Vec3d>& corners_m);

/// An outline cut by rows of samples.
class RowCuts {
 public:
  /// Keeps a reference to the outline.
  RowCuts(const Outline& outline_px, const SampleGrid& grid);
  [[nodiscard]] int first_row() const { return first_row_; }
  [[nodiscard]] int end_row() const { return end_row_; }
  /// Where the outline crosses a row, in samples, sorted; an even number. Valid until the next
  /// call.
  const std::vector<double>& at(int row);

 private:
  const Outline& outline_px_;
  SampleGrid grid_;
  int first_row_ = 0, end_row_ = 0;
  std::vector<double> crossings_;
};

/// Calls visit(row, begin, end) for each run of samples inside the outline (even-odd rule). A
/// sample on an edge shared by two outlines belongs to exactly one of them.
template <typename Visit>
void for_each_span(const Outline& outline_px, const SampleGrid& grid, Visit&& visit) {
  RowCuts cuts(outline_px, grid);
  for (int row = cuts.first_row(); row < cuts.end_row(); ++row) {
    const std::vector<double>& crossings = cuts.at(row);
    for (std::size_t i = 0; i + 1 < crossings.size(); i += 2) {
      const double low = std::max(0.0, std::ceil(crossings[i]));
      const double high = std::min<double>(grid.columns, std::ceil(crossings[i + 1]));
      if (low < high) visit(row, static_cast<int>(low), static_cast<int>(high));
    }
  }
}

/// Inverse depth [1/m] over the picture of a face: at(x, y) = by_x x + by_y y + at_origin.
/// Exact without lens bending, and near enough with it to tell what is in front.
struct InverseDepth {
  double by_x = 0.0, by_y = 0.0, at_origin = 0.0;
  [[nodiscard]] double at(double x_px, double y_px) const {
    return by_x * x_px + by_y * y_px + at_origin;
  }
};

[[nodiscard]] InverseDepth inverse_depth_of(const Pinhole& camera,
                                            const cv::Vec3d& place_m,
                                            const cv::Vec3d& normal);

}  // namespace swingloss::render
