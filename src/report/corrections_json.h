// SPDX-License-Identifier: Apache-2.0
/// \file corrections_json.h
/// Corrections by hand, as results.json has them.
#pragma once

#include "series/series_result.h"

#include <string>

namespace swingloss {

/// A JSON list of the corrections that stand: those of the series, then bar by bar, each with
/// what stood there before and now, in words, and the energy that the bar has without a hand.
/// Their values as typed or marked are in corrections.json.
[[nodiscard]] std::string applied_corrections_json(const SeriesResult& series);

}  // namespace swingloss
