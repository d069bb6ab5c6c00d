// SPDX-License-Identifier: Apache-2.0
/// \file table_chart.h
/// The table of groups as a picture, for video, slides and posts.
#pragma once

#include "report/canvas.h"
#include "series/series_result.h"

#include <string>

namespace swingloss {

/// gnuplot script of the table: place, group, mean, interval, bars, letters, P(best); the type
/// becomes smaller where the canvas would not hold all groups.
/// \param series  with a ranking of at least one group
[[nodiscard]] std::string table_chart_script(const SeriesResult& series, const Canvas& canvas);

/// Height of a picture of the table 1200 px wide.
[[nodiscard]] int table_chart_height_px(std::size_t groups);

}  // namespace swingloss
