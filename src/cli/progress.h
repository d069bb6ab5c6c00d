// SPDX-License-Identifier: Apache-2.0
/// \file progress.h
/// How far a long command is, for whoever waits for it.
#pragma once

#include "series/run_series.h"

#include <functional>
#include <string>

namespace swingloss {

/// Tells on stderr what is done: on a terminal one line that is written over, with the time
/// that is left, else (a log) a line for each; nothing when `quiet` was asked for.
/// \param verb  what happens to each: "measured"
[[nodiscard]] std::function<void(const BarProgress&)> progress_lines(bool quiet,
                                                                     const std::string& verb);

/// The same for the report's drawings, on a terminal alone: a log has its line a bar already.
[[nodiscard]] std::function<void(const BarProgress&)> drawing_progress(bool quiet);

}  // namespace swingloss
