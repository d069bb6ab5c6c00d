// SPDX-License-Identifier: Apache-2.0
/// \file effect_chart.h
/// What a condition or an orientation does, as one picture.
#pragma once

#include "report/canvas.h"
#include "series/series_result.h"

#include <string>

namespace swingloss {

/// Height that suits the number of effects, for pages.
[[nodiscard]] Canvas effect_page_canvas(std::size_t effects);

/// gnuplot script: a row an effect, its relative change [%] as a point and the interval as a
/// line about the zero line. An interval without one end runs to the edge with an arrow.
/// \param series  with at least one effect
[[nodiscard]] std::string effect_chart_script(const SeriesResult& series, const Canvas& canvas);

}  // namespace swingloss
