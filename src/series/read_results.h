// SPDX-License-Identifier: Apache-2.0
/// \file read_results.h
/// The bars of an earlier run, without their footage.
#pragma once

#include "series/read_specimens.h"

#include <string>
#include <vector>

namespace swingloss {

/// Whether a table is a results.csv: it has the columns `row` and `name`.
/// \throws InputError  the file cannot be read as a table
[[nodiscard]] bool is_results_table(const std::string& path);

/// The rows of a results.csv whose `row` is "bar", as typed bars: names, sizes, break type,
/// energy with its uncertainty, limit. What the bars share (the rig) is not told apart in a
/// table: it counts as each bar's own. A bar that was not measured has its problem again.
/// \throws InputError  the file cannot be read as a table, or holds no bar
[[nodiscard]] std::vector<SpecimenRow> read_results(const std::string& path);

}  // namespace swingloss
