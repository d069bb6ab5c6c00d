// SPDX-License-Identifier: Apache-2.0
/// \file plate.h
/// Pictures of a bar's swing with the fitted arm drawn on.
#pragma once

#include "series/strip_frames.h"

#include <string>
#include <vector>

namespace swingloss {

/// One picture ready to go into a page.
struct PlatePanel {
  std::string event;        ///< "release", "blow", "turn"
  std::string description;  ///< what is seen beside the event: time and angle, in words
  std::string jpeg;         ///< encoded bytes
  int width_px = 0, height_px = 0;
};

/// The strip of one bar.
struct Plate {
  std::vector<PlatePanel> panels;
  std::string png;  ///< all panels side by side with a line of text below each; 1920 px wide
};

struct PlateOptions {
  /// A word stamped on the PNG, for invented data; ASCII.
  std::string stamp;
};

/// Cuts the same square about the axle out of every frame, large enough for the whole circle of
/// the arm where the picture holds it, and draws the fitted arm (the measured one where the fit
/// does not reach): a thin line with a dark rim, so that the arm beneath stays visible, a ring
/// about the axle and one about the arm's end.
/// \param frames  with colour; an empty list gives an empty plate
[[nodiscard]] Plate draw_plate(const std::vector<StripFrame>& frames,
                               const PlateOptions& options = {});

}  // namespace swingloss
