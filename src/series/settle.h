// SPDX-License-Identifier: Apache-2.0
/// \file settle.h
/// Weighings joined to the bars that they speak for.
#pragma once

#include "series/read_masses.h"
#include "series/series_result.h"

#include <string>
#include <vector>

namespace swingloss {

/// Judges every piece of a table of masses and marks the bars that were broken before they had
/// settled (Bar::unsettled, and a remark on the bar).
///
/// A piece whose id is a bar's speaks for that bar; any other for all bars of its material, and
/// of its condition where it names one, that have no record of their own. When a bar was broken
/// is read from tested_on: a date, or a day where the piece counts days; without it the bar is
/// taken as broken after the last weighing.
/// \throws InputError  as read_masses(); a piece that speaks for no bar
[[nodiscard]] std::vector<ConditioningRecord> settle_bars(const std::string& path,
                                                          std::vector<BarResult>& bars);

}  // namespace swingloss
