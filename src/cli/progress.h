// SPDX-License-Identifier: Apache-2.0
/// \file progress.h
/// How far a long command is, for a person at a terminal.
#pragma once

#include "series/run_series.h"

#include <cstddef>
#include <functional>
#include <string>

namespace swingloss {

/// A line on stderr that is written over after each bar; nothing when stderr is no terminal or
/// `quiet` was asked for. \param verb  what happens to each: "measured"
[[nodiscard]] std::function<void(const BarProgress&)> terminal_progress(
    bool quiet, const std::string& verb);

/// The same for files that are written one after another.
[[nodiscard]] std::function<void(std::size_t done, std::size_t count, const std::string& name)>
terminal_count(bool quiet);

}  // namespace swingloss
