// SPDX-License-Identifier: Apache-2.0
#include "tracking/body_template.h"

#include <algorithm>
#include <cmath>

namespace swingloss {

VisibleSide::VisibleSide(const SwingView& view, double thickness_px)
    : deeper_at_centre_(-std::sin(view.tilt_x_rad),
                        -std::sin(view.tilt_y_rad) * std::cos(view.tilt_x_rad)),
      principal_px_(view.principal_px),
      focal_px_(view.focal_px),
      thickness_px_(thickness_px) {}

int BodyTemplate::dot_at(double bx_px, double by_px) const {
  int found = -1;
  for (std::size_t i = 0; i < dots.size(); ++i) {
    const RoundDot& dot = dots[i];
    if (std::hypot(bx_px - dot.bx_px, by_px - dot.by_px) < dot.reach_px) found = int(i);
  }
  return found;
}

void BodyTemplate::map_cells() {
  cell_map.create(ink.size(), CV_32S);
  for (int row = 0; row < ink.rows; ++row) {
    for (int column = 0; column < ink.cols; ++column) {
      const double bx = column - extent.half_width_px, by = row - extent.behind_px;
      const int dot = dot_at(bx, by);
      const int cell = dot >= 0 ? cell_columns * cell_rows + dot
                                : int(row / cell_px) * cell_columns + int(column / cell_px);
      cell_map.at<int>(row, column) = cell;
    }
  }
  cell_depth_px.resize(std::size_t(cell_count()), 0.0);
}

BodyTemplate empty_template(const BodyExtent& extent, const CameraCurve& curve) {
  BodyTemplate out;
  out.curve = curve;
  out.levels = LevelTable(curve);
  out.extent = extent;
  const cv::Size size(int(std::ceil(2.0 * extent.half_width_px)) + 1,
                      int(std::ceil(extent.ahead_px + extent.behind_px)) + 1);
  out.ink = cv::Mat::zeros(size, CV_32F);
  out.cover = cv::Mat::zeros(size, CV_32F);
  out.outward_x = cv::Mat::zeros(size, CV_32F);
  out.outward_y = cv::Mat::zeros(size, CV_32F);
  out.thickness_px = 0.04 * extent.ahead_px;
  out.cell_px = std::clamp(extent.ahead_px / 18.0, 8.0, 40.0);
  out.cell_columns = int(std::ceil(size.width / out.cell_px));
  out.cell_rows = int(std::ceil(size.height / out.cell_px));
  out.map_cells();
  return out;
}

}  // namespace swingloss
