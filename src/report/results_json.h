// SPDX-License-Identifier: Apache-2.0
/// \file results_json.h
/// Everything a series gave, for programs.
#pragma once

#include "series/series_result.h"

#include <string>

namespace swingloss {

/// Format "swingloss/results/1": verdict, groups, comparisons, bars, rigs, remarks, and the
/// options of the ranking, so that it can be run again. Numbers are exact (shortest text that
/// reads back the same); angles in degrees; absent means null. Tracks are in swings/ID.json.
/// Text that is not valid UTF-8 is mended with U+FFFD. Ends with a line feed.
[[nodiscard]] std::string results_json(const SeriesResult& series);

}  // namespace swingloss
