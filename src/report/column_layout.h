// SPDX-License-Identifier: Apache-2.0
/// \file column_layout.h
/// Columns side by side in blocks: what the charts of strips and of energies stand on. Internal
/// to report.
#pragma once

#include "report/canvas.h"

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

namespace swingloss {

/// Columns that belong together, with the words above them.
struct ColumnBlock {
  std::string heading;
  std::string second;  ///< below the heading, smaller; may be empty
  Swatch colour;       ///< of the points; words are in ink, legible whatever the material
  std::vector<std::string> labels;  ///< one a column, below it
};

/// Where the columns of all blocks stand: x counts columns, with a gap between blocks.
struct ColumnLayout {
  Canvas canvas;
  std::vector<ColumnBlock> blocks;
  std::vector<std::vector<double>> x;                       ///< a block's columns
  double span = 1.0;                                        ///< length of the x axis
  double left = 0.0, right = 1.0, top = 1.0, bottom = 0.0;  ///< of the plot, in screens
  bool has_second = false;                                  ///< a block has two lines above it
  bool upright = false;                                     ///< labels are turned by 90 degrees
  double y_min = 0.0, y_max = 1.0;  ///< ends of the axis, in the quantity's unit
};

/// \param blocks  with at least one column
/// \param shown   smallest and largest value
[[nodiscard]] ColumnLayout lay_out_columns(const std::vector<ColumnBlock>& blocks,
                                           const std::pair<double, double>& shown,
                                           const Canvas& canvas);

/// Width of a column, and height of the plot [px].
[[nodiscard]] double column_width_px(const ColumnLayout& layout);
[[nodiscard]] double plot_height_px(const ColumnLayout& layout);

/// Ranges, axis with `words`, grid, labels, headings, lines between blocks.
[[nodiscard]] std::string column_axes(const ColumnLayout& layout, const std::string& words);

}  // namespace swingloss
