// SPDX-License-Identifier: Apache-2.0
/// \file demo_faces.h
/// Photographs of the demo's broken bars: both halves on a scale card.
#pragma once

#include "render/demo_series.h"
#include "render/face_photo.h"

#include <optional>
#include <string>

namespace swingloss {

/// How a demo bar truly broke: "brittle", "mixed" or "ductile"; nothing for a bar that is not
/// photographed.
[[nodiscard]] std::optional<std::string> demo_look(const DemoBar& bar);

/// The scene of a bar's photograph: its two halves side by side, camera a few degrees off
/// square. \param bar  one with a demo_look()
[[nodiscard]] render::FaceScene demo_photo(const DemoBar& bar, const DemoCards& cards);

}  // namespace swingloss
