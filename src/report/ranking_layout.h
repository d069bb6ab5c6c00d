// SPDX-License-Identifier: Apache-2.0
/// \file ranking_layout.h
/// Where things stand on the ranking chart, and all of its words.
#pragma once

#include "report/canvas.h"
#include "series/series_result.h"

#include <string>
#include <utility>

namespace swingloss {

/// Places on one canvas. Row r (0 on top) has its middle at y = -r; heights are in rows.
struct RankingLayout {
  Canvas canvas;
  double left = 0.0, right = 1.0, top = 1.0, bottom = 0.0;  ///< of the plot, in screens
  double x_min = 0.0, x_max = 1.0;  ///< ends of the axis, in the ranked quantity's unit
  double rows = 1.0;                ///< rows the plot has room for; at least the groups
  double lines = 1.0;               ///< lines of type the plot's height holds
  double band = 0.30;               ///< half height of the interval
  double shift = 0.0;               ///< points and interval below the row's middle
  std::string means_x, heads_y;     ///< column of means; line of the columns' heads
};

/// Smallest and largest value that a chart of the ranked quantity shows; 0 is always on it.
/// Every bar and mean is; intervals are as far as they do not press the bars together: half as
/// far again. \param series  with a ranking
[[nodiscard]] std::pair<double, double> values_shown(const SeriesResult& series);

/// \param series  with a ranking of at least one group
[[nodiscard]] RankingLayout lay_out_ranking(const SeriesResult& series, const Canvas& canvas);

/// Ranges, axis, grid, lines between rows.
[[nodiscard]] std::string ranking_axes(const SeriesResult& series, const RankingLayout& layout);

/// What the columns at the right hold.
[[nodiscard]] std::string ranking_column_heads(const RankingLayout& layout);

/// A row's names at the left, mean and letters at the right; above the points when narrow.
[[nodiscard]] std::string ranking_row_texts(const GroupSummary& group,
                                            double y,
                                            const RankingLayout& layout);

}  // namespace swingloss
