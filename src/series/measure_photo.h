// SPDX-License-Identifier: Apache-2.0
/// \file measure_photo.h
/// Photograph files to sizes and looks; and labelled photographs to a model.
#pragma once

#include "series/surface_json.h"
#include "surface/measure_surface.h"

#include <string>
#include <vector>

namespace swingloss {

/// Reads and measures a photograph, its EXIF turn and focal length heeded.
/// \throws InputError  the file cannot be read (imaging/still.h)
[[nodiscard]] Result<SurfaceMeasurement> measure_photo(const std::string& path,
                                                       const std::string& name,
                                                       const AppearanceModel& model,
                                                       SurfaceOptions options = {});

/// Faces of a table of labels: columns `bar`, `photo` (from the table's folder), `label`
/// (brittle, mixed, ductile), and `face`, 1 for the leftmost, where a photograph shows several.
/// \throws InputError  the table, a label or a photograph cannot be used
struct LabelledFaces {
  std::vector<LabelledFace> faces;
  Remarks left_out;  ///< photographs that could not be measured
};
[[nodiscard]] LabelledFaces read_labels(const std::string& path,
                                        const AppearanceModel& model,
                                        int jobs = 0);

}  // namespace swingloss
