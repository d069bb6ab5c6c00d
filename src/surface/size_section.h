// SPDX-License-Identifier: Apache-2.0
/// \file size_section.h
/// From the shape of a section in pixels to millimetres with their uncertainty.
#pragma once

#include "surface/fit_section.h"
#include "surface/measures.h"

namespace swingloss {

/// What is known beside the photograph.
struct ScaleFacts {
  double print_ratio = 1.0;  ///< length of the printed ruler over what it should be
  /// Of print_ratio; 0.017 where the ruler was not measured: printers that fit to the page
  /// shrink by up to 3 %, and half a width of 3 % is 1.7 % as a standard uncertainty.
  double u_print_ratio = 0.017;
  double face_height_m = 0.0;  ///< of the broken face above the card's print
  double u_face_height_m = 0.5e-3;
};

/// h, b_N and the area of a section.
///
/// Lengths are taken between the middles of opposite sides, in the plane of the face (the
/// card's plane raised by its height). Sources: `card.pose` (the fit, shared by the bars of one
/// photograph), `card.print`, `face-height`, `camera.focal` (only with a height), `edge` (how
/// blur and rounded edges place both sides), `sides.thickness`, `sides.near`, `sides.far` and
/// `notch-root` (scatter of the points); `sides.lip`: b_N and the whole width end beside the
/// lip, and by as much as it drew the far side's line to itself they are in doubt, or by a
/// quarter of it where that is more.
///
/// \param plane  with a card
/// \param lip    of lip_of()
/// \return Failure `face-aslant`: the sides of the bar below the face are seen by more than
///   0.3 mm, so the outline is not the face's
[[nodiscard]] Result<SectionSize> size_section(const PlanePicture& plane,
                                               const SectionShape& shape,
                                               const ScaleFacts& facts,
                                               const Lip& lip = {});

}  // namespace swingloss
