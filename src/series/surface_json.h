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
  std::string orientation;  ///< of the bar as typed; empty: not known
  std::vector<SurfaceMeasurement> photos;
  /// Photographs that gave nothing, each with why; `code` as the Failure's.
  Remarks refused;
};

/// Format "swingloss/surface/1". Millimetres and degrees; u is one standard uncertainty.
/// Layers and break types are written as read_layers() and suggest_break() tell them.
/// \param inputs  what the record was made from, for reuse; empty: left out
[[nodiscard]] std::string surface_json(const SurfaceRecord& record,
                                       const std::string& inputs = "");

/// The faces of a pair, as suggest_break() and others take them.
[[nodiscard]] std::vector<const FaceMeasures*> faces_of(const SurfaceMeasurement& photo,
                                                        const HalfPair& pair);

struct StoredSurface {
  SurfaceRecord record;
  std::string inputs;
};
/// The same read back; sizes keep value and combined u.
/// \throws InputError  not JSON of this format
[[nodiscard]] StoredSurface parse_surface_json(const std::string& text,
                                               const std::string& file);

}  // namespace swingloss
