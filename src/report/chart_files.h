// SPDX-License-Identifier: Apache-2.0
/// \file chart_files.h
/// In which sizes and on which grounds a chart is written to files.
#pragma once

#include "report/canvas.h"

#include <string>
#include <vector>

namespace swingloss {

/// Pictures of every chart beside the plain ones (SVG, and PNG of 1920 x 1080). Each choice
/// joins with the others: 4K and transparent also gives one that is both.
struct ChartExtras {
  bool uhd = false;          ///< PNG of 3840 x 2160 as well
  bool transparent = false;  ///< without a ground as well, to lie over video or slides
  bool dark = false;         ///< in the colours for dark ground as well
};

/// One file of a chart.
struct ChartFile {
  std::string ending;  ///< after the chart's name: ".svg", "-4k-dark-transparent.png"
  Canvas canvas;
};

/// Every file that a chart is written to.
/// \param svg_width_px, svg_height_px  of the SVG; PNG have video's shape
[[nodiscard]] std::vector<ChartFile> chart_files(int svg_width_px,
                                                 int svg_height_px,
                                                 const ChartExtras& extras);

/// Draws a script that was made for `canvas`, in the colours of the canvas's ground.
/// \throws as run_gnuplot()
[[nodiscard]] std::string draw_chart(const std::string& script,
                                     const Canvas& canvas,
                                     const std::string& gnuplot = "gnuplot");

}  // namespace swingloss
