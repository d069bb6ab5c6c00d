// SPDX-License-Identifier: Apache-2.0
/// \file surface_summary_json.h
/// What a bar's photographs gave, in short, for results.json.
#pragma once

#include "series/series_result.h"

#include <string>

namespace swingloss {

/// Field `surface` of a bar: the first section, the look that speaks for the bar, break type
/// and layers as its faces tell them; "null" for a bar without photographs. surfaces/ID.json
/// has it all.
[[nodiscard]] std::string surface_summary_json(const BarResult& bar);

}  // namespace swingloss
