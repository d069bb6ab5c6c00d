// SPDX-License-Identifier: Apache-2.0
/// \file say_series.h
/// A measured and ranked series in words, for a terminal.
#pragma once

#include "series/run_series.h"

#include <string>

namespace swingloss {

/// The ranking as a table, its verdict sentences, remarks, and the bars that could not be
/// measured with their causes.
[[nodiscard]] std::string account_of(const SeriesResult& result);

/// What one machine measured of a shared series, and what to do when all have.
[[nodiscard]] std::string account_of(const PartResult& result, const std::string& folder);

/// "BAR: cause" for each bar with a problem, one a line; empty when there is none.
[[nodiscard]] std::string problems_of(const std::vector<BarResult>& bars);

}  // namespace swingloss
