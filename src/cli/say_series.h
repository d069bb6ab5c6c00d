// SPDX-License-Identifier: Apache-2.0
/// \file say_series.h
/// A measured and ranked series in words, for a terminal.
#pragma once

#include "series/series_result.h"

#include <string>

namespace swingloss {

/// The ranking as a table, its verdict sentences, remarks, and the bars that could not be
/// measured with their causes.
[[nodiscard]] std::string account_of(const SeriesResult& result);

/// "BAR: cause" for each bar with a problem, one a line; empty when there is none.
[[nodiscard]] std::string problems_of(const SeriesResult& result);

}  // namespace swingloss
