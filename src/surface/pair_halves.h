// SPDX-License-Identifier: Apache-2.0
/// \file pair_halves.h
/// Which of several broken faces are the two halves of one bar.
#pragma once

#include "core/result.h"
#include "surface/measures.h"

#include <optional>
#include <vector>

namespace swingloss {

/// What the pairing looks at beside the measures of a face.
struct HalfTraits {
  /// Median of the face's light: natural logarithm of its brightness, of red over green and of
  /// blue over green. Comparable within one photograph only.
  double brightness = 0.0, red_ratio = 0.0, blue_ratio = 0.0;
  Eigen::Vector2d middle_px{0.0, 0.0};  ///< of the outline, in the photograph
};

/// How far two faces are from being halves of one bar; see HalfPair.
[[nodiscard]] double unlikeness_of(const FaceMeasures& a,
                                   const HalfTraits& a_traits,
                                   const FaceMeasures& b,
                                   const HalfTraits& b_traits);

/// Pairs faces that lie on one photograph in reading order: halves of a bar lie side by side,
/// the first face with the second, the third with the fourth. Place proposes, likeness
/// confirms.
///
/// With two faces, and where the caller knows how many bars there are, likeness need only not
/// speak against the places. Else the places need more: halves that lie clearly nearer to one
/// another than to other bars, or a likeness that no other pairing reaches.
///
/// \param traits  one a face
/// \param bars    on the photograph, where known: then as many faces as bars mean one half of
///   each, and none is paired
/// \return empty for fewer than two faces; Failure `halves-unpaired`: an odd number, neighbours
///   that are unlike, or a place and a likeness that disagree or leave it open
[[nodiscard]] Result<std::vector<HalfPair>> pair_halves(const std::vector<FaceMeasures>& faces,
                                                        const std::vector<HalfTraits>& traits,
                                                        std::optional<int> bars = {});

}  // namespace swingloss
