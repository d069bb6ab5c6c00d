// SPDX-License-Identifier: Apache-2.0
/// \file detail_charts.h
/// What stands behind the ranking, as pictures: normal scores, weighings.
#pragma once

#include "report/canvas.h"
#include "series/series_result.h"

#include <string>

namespace swingloss {

/// (value - mean) / s of every plain value against the score that a normal value of its place
/// would have, a colour a material: straight along the diagonal where scatter is normal.
/// \param series  has_scores()
[[nodiscard]] std::string scores_chart_script(const SeriesResult& series, const Canvas& canvas);

/// Some group has normal scores.
[[nodiscard]] bool has_scores(const SeriesResult& series);

/// Uptake of every weighed piece over days, points and the better law as a line.
/// \param series  has_weighings()
[[nodiscard]] std::string conditioning_chart_script(const SeriesResult& series,
                                                    const Canvas& canvas);

/// Some piece was weighed.
[[nodiscard]] bool has_weighings(const SeriesResult& series);

}  // namespace swingloss
