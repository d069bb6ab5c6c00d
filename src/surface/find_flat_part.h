// SPDX-License-Identifier: Apache-2.0
/// \file find_flat_part.h
/// The flat, bright part of a broken metal bar, found without marks.
#pragma once

#include "core/result.h"
#include "surface/face_patch.h"

namespace swingloss {

/// A rectangle upon a face, in shares of it: left and right along the notch, top and bottom
/// from the root to the far side.
struct FlatPart {
  double left = 0.0, right = 1.0, top = 0.0, bottom = 1.0;
  double share = 0.0, u_share = 0.0;  ///< of the face that it covers; standard uncertainty
};

/// The part whose brightness and roughness differ most from those of the rim around it.
///
/// The face is cut into tiles; of all rectangles about the middle that leave a rim on every
/// side the one is taken that parts the tiles best into two kinds (Wilks' ratio of the
/// determinants of scatter within and in all, of four features: brightness without the lamp's
/// slope, and the mean logarithm of what three fine bands hold). All rectangles that part them
/// nearly as well make the uncertainty, with what a ragged border and a rim narrower than a
/// tile leave open. It does not know which of the two kinds split: that the flat part lies in
/// the middle is what ASTM E23 draws [ASTM_E23].
///
/// \param inset  what cut_patch() left out at each edge, as a share: it counts as rim
/// \return Failure `flat-part-not-told`: the face has too few pixels, or no border stands out.
///   That is so too where nothing is flat, and where everything is
[[nodiscard]] Result<FlatPart> find_flat_part(const FacePatch& patch, double inset);

}  // namespace swingloss
