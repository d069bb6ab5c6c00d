// SPDX-License-Identifier: Apache-2.0
#include "report/face_words.h"

#include "core/angle.h"
#include "core/expects.h"
#include "core/number_text.h"
#include "surface/seen_marks.h"

#include <cmath>

namespace swingloss::face_words {

std::string with_u(const Uncertain& x, double scale, const std::string& unit) {
  const ValueText text = format_with_u(scale * x.value(), scale * x.u());
  return text.value + " +/- " + text.u + " " + unit;
}

std::string percent(double share) { return fixed_text(100.0 * share, 0) + " %"; }

std::string lighter_part(const Appearance& look) {
  if (look.light_step <= 0.0) return "no lighter part apart: light all over, or nowhere";
  return "lighter part " + percent(look.light_share) + ", by " +
         percent(std::expm1(look.light_step)) + ", colour off by " +
         fixed_text(look.chroma_drop, 2);
}

std::string sides(const FaceMeasures& face, const std::string& gap) {
  expects(face.section.has_value(), "sides of a face without sizes");
  return "h " + with_u(face.section->thickness_m, 1e3, "mm") + gap +
         (face.notch_found ? "b_N " : "b ") + with_u(face.section->width_m, 1e3, "mm");
}

std::optional<std::string> even_lines(const Appearance& look) {
  if (look.line_strength < kClearLines) return std::nullopt;
  std::string text =
      fixed_text(Angle::from_rad(look.line_angle_rad).deg(), 0) + " deg from the crack's way";
  if (look.line_pitch_m) text += ", " + fixed_text(1e3 * *look.line_pitch_m, 2) + " mm apart";
  return text;
}

std::string layers(const LayerReading& reading) {
  if (reading.course == CrackCourse::CannotTell)
    return "crack and layers: cannot tell: " + reading.reason;
  return std::string("crack ran ") + name_of(reading.course) +
         (reading.sure ? " (two signs agree): " : " (one sign alone): ") + reading.reason;
}

std::string break_type(const BreakGuess& guess) {
  return (guess.letter.empty() ? "break type: cannot tell" : "break type " + guess.letter) +
         ": " + guess.reason;
}

std::string shear(const ShearReading& shear) {
  const std::string u = shear.u_percent ? ", u " + fixed_text(*shear.u_percent, 0) : "";
  return "percent shear " + fixed_text(shear.percent, 0) + u + " (" + shear.basis + ")";
}

}  // namespace swingloss::face_words
