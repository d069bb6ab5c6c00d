// SPDX-License-Identifier: Apache-2.0
#include "surface/suggest_break.h"

#include "core/number_text.h"

#include <algorithm>

namespace swingloss {

BreakGuess suggest_break(const std::vector<const FaceMeasures*>& faces, bool paired) {
  const auto any = [&](auto&& holds) { return std::any_of(faces.begin(), faces.end(), holds); };
  if (any([](const FaceMeasures* face) { return face->parting.joined; })) {
    return {"H", "the two halves hang together at the far side"};
  }
  if (faces.empty()) return {"", "no broken face is seen"};
  if (faces.size() != 2 || !paired) {
    return {"", "it takes both halves of the bar, side by side on one photograph"};
  }
  if (any([](const FaceMeasures* face) { return !face->notch_found; })) {
    return {"", "which side is the far one cannot be told without the root of the notch"};
  }
  const auto most = std::max_element(faces.begin(), faces.end(), [](auto* a, auto* b) {
    return a->parting.lip < b->parting.lip;
  });
  if ((*most)->parting.lip > 0.0) {
    return {"",
            "a lip of " + fixed_text(100.0 * (*most)->parting.lip, 0) +
                " % of the way stands at the far side: C if the halves fell apart in the blow, "
                "H if a skin still held them"};
  }
  return {"C", "two halves lie apart, and neither has a lip at its far side"};
}

}  // namespace swingloss
