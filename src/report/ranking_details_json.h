// SPDX-License-Identifier: Apache-2.0
/// \file ranking_details_json.h
/// The longer parts of results.json: curves, plots and records.
#pragma once

#include "series/series_result.h"

#include <string>

namespace swingloss {

/// A JSON list with an object a group, in the ranking's order: how the break types were taken,
/// places that hold, lognormal view, Kaplan-Meier curve, Grubbs' test, normal scores, and what
/// is worth improving. \param series  with a ranking
[[nodiscard]] std::string group_details_json(const SeriesResult& series);

/// A JSON list of the weighings and what they say; times in days.
[[nodiscard]] std::string conditioning_json(const SeriesResult& series);

/// A JSON object: a bar's value drawn, beside first order; null where it was not drawn.
[[nodiscard]] std::string drawn_json(const BarResult& bar);

/// A JSON object: how the bars were ranked, so that a report can be made again.
[[nodiscard]] std::string ranking_options_json(const RankingOptions& options);

}  // namespace swingloss
