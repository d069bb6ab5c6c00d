// SPDX-License-Identifier: Apache-2.0
/// \file column_charts.h
/// Single values as pictures: strips of each group, and the energy of each bar.
#pragma once

#include "report/canvas.h"
#include "series/series_result.h"

#include <string>

namespace swingloss {

/// gnuplot script: a column a group, the groups of one material side by side in the order of
/// specimens.csv, each bar a point; means as strokes, their intervals as bands. Bars beyond
/// what could be measured are open points with an arrow, left-out ones crosses. Points of a
/// column are spread sideways, which means nothing. \param series  with a ranking
[[nodiscard]] std::string strips_chart_script(const SeriesResult& series, const Canvas& canvas);

/// gnuplot script: a column a bar, group by group, its energy [J] as a point with its own
/// standard uncertainty as a line. \param series  has_energies()
[[nodiscard]] std::string energies_chart_script(const SeriesResult& series,
                                                const Canvas& canvas);

/// Some bar in the ranking has an energy.
[[nodiscard]] bool has_energies(const SeriesResult& series);

}  // namespace swingloss
