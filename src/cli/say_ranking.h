// SPDX-License-Identifier: Apache-2.0
/// \file say_ranking.h
/// What stands behind a ranking, in words, for a terminal.
#pragma once

#include "series/series_result.h"

#include <string>

namespace swingloss {

/// Pairs with verdict and bars needed, effects, groups with bars that held, ties of rigs, what
/// is worth improving, weighings, drawn uncertainties; each only where there is any.
[[nodiscard]] std::string details_of(const SeriesResult& result);

}  // namespace swingloss
