// SPDX-License-Identifier: Apache-2.0
/// \file material_colours.h
/// Which colour stands for which material, the same on every chart and table of a series.
#pragma once

#include "report/palette.h"
#include "series/series_result.h"

#include <map>
#include <string>

namespace swingloss {

/// By name; handed out in order of first appearance in specimens.csv.
[[nodiscard]] std::map<std::string, Swatch> material_colours(const SeriesResult& series);

}  // namespace swingloss
