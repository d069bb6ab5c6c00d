// SPDX-License-Identifier: Apache-2.0
/// \file say_surface.h
/// Photographs of broken bars in words, for a terminal.
#pragma once

#include "series/surface_json.h"

#include <string>

namespace swingloss {

/// Card, then for every face its sizes, look and judgement, and the remarks.
[[nodiscard]] std::string account_of(const SurfaceMeasurement& photo);

}  // namespace swingloss
