// SPDX-License-Identifier: Apache-2.0
#include "cli/say_surface.h"

#include "core/number_text.h"
#include "surface/judge.h"

#include <cmath>

namespace swingloss {
namespace {

std::string with_u(const Uncertain& x, double scale, const std::string& unit) {
  const ValueText text = format_with_u(scale * x.value(), scale * x.u());
  return text.value + " +/- " + text.u + " " + unit;
}

std::string percent(double share) { return fixed_text(100.0 * share, 0) + " %"; }

std::string card_line(const CardFacts& card) {
  std::string text = "  card " + card.name + ": " + std::to_string(card.tags) + " tags, " +
                     fixed_text(1e-3 * card.px_per_m, 1) + " px/mm, tilt about " +
                     fixed_text(card.tilt_rad * 57.29577951308232, 0) + " deg";
  return text + ", print " + fixed_text(100.0 * card.print_ratio, 2) + " +/- " +
         fixed_text(100.0 * card.u_print_ratio, 2) + " %\n";
}

std::string look_lines(const Appearance& look) {
  std::string text = "    lighter part " + percent(look.light_share);
  if (look.light_step > 0.0) text += " (by " + percent(std::expm1(look.light_step)) + ")";
  text += ", roughness " + fixed_text(look.roughness[0], 3) + " / " +
          fixed_text(look.roughness[1], 3) + " / " + fixed_text(look.roughness[2], 3) +
          ", glints " + percent(look.glint_share) + "\n";
  constexpr double kClearLines = 0.25;
  if (look.line_strength > kClearLines) {
    text += "    even lines (strength " + fixed_text(look.line_strength, 2) + "), " +
            fixed_text(look.line_angle_rad * 57.29577951308232, 0) +
            " deg from the crack's way";
    if (look.line_pitch_m) text += ", " + fixed_text(1e3 * *look.line_pitch_m, 2) + " mm apart";
    text += "\n";
  }
  return text;
}

std::string judgement_line(const Judgement& j) {
  std::string text =
      "    looks " + std::string(j.verdict ? name_of(*j.verdict) : "like: cannot tell");
  if (j.verdict) {
    text += " (brittle " + percent(j.probability[0]) + ", mixed " + percent(j.probability[1]) +
            ", ductile " + percent(j.probability[2]) + ")";
  }
  return text + ": " + j.reason + "\n";
}

std::string remark_lines(const Remarks& remarks, const std::string& indent) {
  std::string text;
  for (const Remark& remark : remarks) {
    text += indent + name_of(remark.severity) + ": " + remark.text + "\n";
  }
  return text;
}

std::string face_lines(const FaceMeasures& face, std::size_t number) {
  std::string text = "  face " + std::to_string(number);
  if (face.section) {
    const SectionSize& s = *face.section;
    text += ": h " + with_u(s.thickness_m, 1e3, "mm") + (face.notch_found ? ", b_N " : ", b ") +
            with_u(s.width_m, 1e3, "mm") + ", area " + with_u(s.area_m2, 1e6, "mm2");
  }
  return text + "\n" + look_lines(face.appearance) + judgement_line(face.judgement) +
         remark_lines(face.remarks, "    ");
}

}  // namespace

std::string account_of(const SurfaceMeasurement& photo) {
  std::string text = photo.photo + "\n";
  if (photo.card) text += card_line(*photo.card);
  for (std::size_t i = 0; i < photo.faces.size(); ++i)
    text += face_lines(photo.faces[i], i + 1);
  return text + remark_lines(photo.remarks, "  ");
}

}  // namespace swingloss
