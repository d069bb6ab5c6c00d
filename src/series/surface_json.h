// SPDX-License-Identifier: Apache-2.0
/// \file surface_json.h
/// What photographs of a bar gave, as JSON and back.
#pragma once

#include "surface/measures.h"

#include <string>
#include <vector>

namespace swingloss {

/// The photographs of one bar, or of one call of `swingloss surface`.
struct SurfaceRecord {
  std::vector<SurfaceMeasurement> photos;
  /// Photographs that gave nothing, each with why; `code` as the Failure's.
  Remarks refused;
};

/// Format "swingloss/surface/1". Millimetres and degrees; u is one standard uncertainty.
/// \param inputs  what the record was made from, for reuse; empty: left out
[[nodiscard]] std::string surface_json(const SurfaceRecord& record,
                                       const std::string& inputs = "");

struct StoredSurface {
  SurfaceRecord record;
  std::string inputs;
};
/// The same read back; sizes keep value and combined u.
/// \throws InputError  not JSON of this format
[[nodiscard]] StoredSurface parse_surface_json(const std::string& text,
                                               const std::string& file);

}  // namespace swingloss
