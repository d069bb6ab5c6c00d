// SPDX-License-Identifier: Apache-2.0
#include "report/point_marks.h"

#include "core/number_text.h"

namespace swingloss {

void PointMarks::add(const Bar& bar, double x, double y, double u) {
  if (bar.left_out) {
    left_out.push_back({x, y});
  } else if (bar.limit == Limit::None) {
    exact.push_back({x, y, u});
  } else {
    (bar.limit == Limit::Above ? above : below).push_back({x, y});
  }
}

void PointPlot::plot(const std::vector<std::vector<double>>& rows,
                     const std::vector<std::string>& styles,
                     const Swatch& colour) {
  if (rows.empty()) return;
  const std::string name = "points" + std::to_string(blocks_++);
  data_ += script_data(name, rows);
  for (const std::string& style : styles) {
    commands_ += ", \\\n  $";
    commands_.append(name).append(style).append(" linewidth 2 linecolor ");
    commands_.append(script_colour(colour)).append(" notitle");
  }
}

void PointPlot::add(const PointMarks& marks, const Swatch& colour) {
  const std::string size = " pointsize " + script_point_size(canvas_, 1.0);
  const std::string open = " using 1:2 with points pointtype 6" + size;
  const auto arrow = [&](double side) {  // from the rim of the open point
    const std::string from = number_text(side * 0.16 * reach_);
    const std::string length = number_text(side * 0.84 * reach_);
    return " using 1:($2+" + from + "):(0):(" + length +
           ") with vectors head size screen 0.008,24 nofilled";
  };
  plot(marks.exact,
       {" using 1:($2-$3):(0):(2*$3) with vectors nohead",
        " using 1:2 with points pointtype 7" + size},
       colour);
  plot(marks.above, {arrow(1.0), open}, colour);
  plot(marks.below, {arrow(-1.0), open}, colour);
  plot(marks.left_out, {" using 1:2 with points pointtype 2" + size}, colour);
}

std::string PointPlot::script() const {
  return data_ + "plot NaN linecolor " + script_colour(kInk) + " notitle" + commands_ + "\n";
}

}  // namespace swingloss
