// SPDX-License-Identifier: Apache-2.0
/// \file ranking_chart.h
/// The verdict as one picture: a row a group, toughest on top, every bar a point.
#pragma once

#include "report/canvas.h"
#include "series/series_result.h"

#include <string>

namespace swingloss {

/// Height that suits the number of groups, for pages; fixed canvases keep theirs.
[[nodiscard]] Canvas ranking_page_canvas(std::size_t groups, bool narrow);

/// gnuplot script of the ranking chart.
///
/// A row shows the group's mean (upright stroke), the confidence interval of the mean (band;
/// with an arrow where it goes on beyond the chart), each counted bar (filled point), bars with
/// a value above or below what could be measured (open point with an arrow that way), and
/// left-out bars (cross). Points of one row are spread up and down so that none hides another;
/// height in the row means nothing. \param series  with a ranking of at least one group
[[nodiscard]] std::string ranking_chart_script(const SeriesResult& series,
                                               const Canvas& canvas);

}  // namespace swingloss
