// SPDX-License-Identifier: Apache-2.0
/// \file svg_marks.h
/// Points drawn in gnuplot's SVG.
#pragma once

#include <sstream>
#include <string>
#include <vector>

namespace swingloss::test {

/// One drawn point.
struct Mark {
  double x_px = 0.0, y_px = 0.0;
};

/// Points of one shape, in order of drawing: gpPt6 is a disc, gpPt5 a ring, gpPt1 a cross.
inline std::vector<Mark> marks(const std::string& svg, const std::string& shape) {
  const std::string start = "<use xlink:href='#" + shape + "' transform='translate(";
  std::vector<Mark> found;
  for (std::size_t at = svg.find(start); at != std::string::npos;
       at = svg.find(start, at + 1)) {
    std::istringstream text(svg.substr(at + start.size(), 40));
    Mark mark;
    char comma = ' ';
    text >> mark.x_px >> comma >> mark.y_px;
    found.push_back(mark);
  }
  return found;
}

}  // namespace swingloss::test
