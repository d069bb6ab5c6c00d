// SPDX-License-Identifier: Apache-2.0
/// \file swing_chart.h
/// One swing over time: measured angles, the fitted law, and what is left between them.
#pragma once

#include "report/canvas.h"
#include "series/series_result.h"

#include <string>

namespace swingloss {

/// The size for pages.
[[nodiscard]] Canvas swing_page_canvas();

/// gnuplot script: above, angle from hanging rest [deg] of every sample (filled: used by the
/// fit, open: left out of it) with the fitted curve and the events; below, measured minus
/// fitted of the used samples, with their standard uncertainty as bars.
/// \param bar  with a swing
[[nodiscard]] std::string swing_chart_script(const BarResult& bar,
                                             const ChartTexts& texts,
                                             const Canvas& canvas);

}  // namespace swingloss
