// SPDX-License-Identifier: Apache-2.0
/// \file point_marks.h
/// How bars look on charts of columns: counted, bounded, left out. Internal to report.
#pragma once

#include "report/canvas.h"
#include "series/series_result.h"

#include <string>
#include <vector>

namespace swingloss {

/// Points of one colour by the way they are drawn; x, y, and for exact ones u (0: no line).
struct PointMarks {
  std::vector<std::vector<double>> exact, above, below, left_out;

  /// Puts a bar where its kind of value belongs.
  void add(const Bar& bar, double x, double y, double u);
};

/// A chart's points: data blocks first, then one plot command for all.
class PointPlot {
 public:
  /// \param reach  length of the arrows of bounded bars, in the y axis's unit
  PointPlot(const Canvas& canvas, double reach) : canvas_(canvas), reach_(reach) {}
  void add(const PointMarks& marks, const Swatch& colour);
  [[nodiscard]] std::string script() const;

 private:
  void plot(const std::vector<std::vector<double>>& rows,
            const std::vector<std::string>& styles,
            const Swatch& colour);

  Canvas canvas_;
  double reach_;
  std::string data_, commands_;
  int blocks_ = 0;
};

}  // namespace swingloss
