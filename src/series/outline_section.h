// SPDX-License-Identifier: Apache-2.0
/// \file outline_section.h
/// The size of a section whose corners a person marked on a photograph.
#pragma once

#include "core/result.h"

#include <array>
#include <optional>
#include <string>

#include <Eigen/Core>

namespace swingloss {

/// Corners of the broken part, in the upright photograph: root of the notch left and right, far
/// side right and left.
using SectionCorners = std::array<Eigen::Vector2d, 4>;

struct OutlineSection {
  double thickness_mm = 0.0;  ///< h, along the notch: mean of the two sides that run along it
  double width_mm = 0.0;      ///< b_N: mean of the two others
  double u_mm = 0.0;  ///< standard uncertainty of either: marking, card and print or known side
};

/// A side of the section that was measured otherwise: the scale of a photograph without a card.
struct KnownSide {
  bool is_thickness = true;  ///< h, along the notch; else b_N
  double length_mm = 0.0;
  double u_mm = 0.02;  ///< standard uncertainty
};

struct OutlineOptions {
  double u_px = 2.0;               ///< standard uncertainty of each marked corner, each way
  std::optional<double> ruler_mm;  ///< length of the card's ruler as printed (80 by design)
  std::optional<KnownSide> known;  ///< instead of a card
};

/// By the scale card in the photograph, its plane taken as that of the face. An unmeasured
/// print has 1.7 % of doubt (surface/size_section.h). Or by a known side: the photograph is
/// taken as made square to the face; held by hand it may be some 10 degrees off, which changes
/// one side against the other by up to 1.5 %, so 1 % is part of u (common practice, no source).
/// \return Failure: as find_card(); `outline-degenerate` for corners without an area;
/// `outline-aslant` without a card, where opposite sides differ by more than a tenth
/// \throws InputError  the photograph cannot be read
[[nodiscard]] Result<OutlineSection> size_of_outline(const std::string& photo_path,
                                                     const SectionCorners& corners_px,
                                                     const OutlineOptions& options = {});

}  // namespace swingloss
