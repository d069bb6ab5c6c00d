// SPDX-License-Identifier: Apache-2.0
/// \file results_csv.h
/// Everything a series gave, as one table for spreadsheets.
#pragma once

#include "series/series_result.h"

#include <string>

namespace swingloss {

/// UTF-8, quoted by [RFC4180], comma, decimal point; one header row and the
/// same columns in every row. The first column, `row`, tells four kinds apart, in this order:
///   bar         one a row of specimens.csv, in its order
///   group       one a group, toughest first
///   comparison  one a pair of groups; `name` and `other` are the groups
///   effect      one a condition or orientation against its base; `change` is relative, so that
///               0.23 is 23 % more
/// Texts are passed through spreadsheet_text(). A column that does not apply is empty. Numbers
/// are exact (shortest text that reads back the same); `u` is one standard uncertainty; `unit`
/// is that of mean, s, interval and difference.
[[nodiscard]] std::string results_csv(const SeriesResult& series);

}  // namespace swingloss
