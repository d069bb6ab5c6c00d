// SPDX-License-Identifier: Apache-2.0
/// \file say_surface.h
/// Photographs of broken bars in words, for a terminal.
#pragma once

#include "series/surface_json.h"

#include <string>

namespace swingloss {

/// Card, then for every face its sizes, look, judgement and layers, the halves that belong
/// together, and the remarks. \param orientation  of the bars; empty: not known
[[nodiscard]] std::string account_of(const SurfaceMeasurement& photo,
                                     const std::string& orientation = "");

}  // namespace swingloss
