// SPDX-License-Identifier: Apache-2.0
/// \file face_words.h
/// Sizes and look of a broken face in words, for terminals and for pictures: ASCII.
#pragma once

#include "surface/layer_course.h"
#include "surface/measures.h"
#include "surface/suggest_break.h"

#include <optional>
#include <string>

namespace swingloss::face_words {

/// "4.02 +/- 0.03 mm". \param scale  from the value's unit to the one named
[[nodiscard]] std::string with_u(const Uncertain& x, double scale, const std::string& unit);

/// A share of one: "12 %".
[[nodiscard]] std::string percent(double share);

/// "lighter part 31 %, by 46 %, colour off by 0.30"; where brightness does not fall into two
/// groups, that a face may be light all over or nowhere: the picture does not tell which.
[[nodiscard]] std::string lighter_part(const Appearance& look);

/// "h 4.02 +/- 0.03 mm", then `gap`, then "b_N ..." or, without a notch root, "b ...".
[[nodiscard]] std::string sides(const FaceMeasures& face, const std::string& gap);

/// "37 deg from the crack's way, 0.20 mm apart"; nothing where no even lines are clear.
[[nodiscard]] std::optional<std::string> even_lines(const Appearance& look);

/// "crack across layers (sure): even lines run ..."; "crack and layers: cannot tell: ...".
[[nodiscard]] std::string layers(const LayerReading& reading);

/// "break type C: two halves ..."; "break type: cannot tell: ...".
[[nodiscard]] std::string break_type(const BreakGuess& guess);

/// "percent shear 62 (A 5.5 mm ...)".
[[nodiscard]] std::string shear(const ShearReading& shear);

}  // namespace swingloss::face_words
