// SPDX-License-Identifier: Apache-2.0
/// \file suggest_break.h
/// The break type that the faces of a bar speak for.
#pragma once

#include "surface/measures.h"

#include <string>
#include <vector>

namespace swingloss {

/// A letter of ISO 179-1 and ISO 180, or none.
struct BreakGuess {
  std::string letter;  ///< "C", "H" or empty: cannot tell
  std::string reason;  ///< a clause, without a full stop
};

/// From all the faces of one bar.
///
/// C: two halves that lie apart, neither with a lip at its far side. H: the halves still hang
/// together at the far side. A lip on halves that lie apart leaves open which of the two it
/// was: they may have come apart in the blow or when the skin was cut. P and N leave no two
/// broken faces, and are never named [ISO179-1] [ISO180]. \param faces  of one bar; paired: on
/// one photograph and found to belong together
[[nodiscard]] BreakGuess suggest_break(const std::vector<const FaceMeasures*>& faces,
                                       bool paired);

}  // namespace swingloss
