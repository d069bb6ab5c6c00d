// SPDX-License-Identifier: Apache-2.0
#include "cli/say_surface.h"

#include "core/angle.h"
#include "core/number_text.h"
#include "report/face_words.h"
#include "surface/judge.h"

namespace swingloss {
namespace {

std::string card_line(const CardFacts& card) {
  std::string text = "  card " + card.name + ": " + std::to_string(card.tags) + " tags, " +
                     fixed_text(1e-3 * card.px_per_m, 1) + " px/mm, tilt about " +
                     fixed_text(Angle::from_rad(card.tilt_rad).deg(), 0) + " deg";
  return text + ", print " + fixed_text(100.0 * card.print_ratio, 2) + " +/- " +
         fixed_text(100.0 * card.u_print_ratio, 2) + " %\n";
}

std::string look_lines(const Appearance& look) {
  std::string text = "    " + face_words::lighter_part(look) + "; roughness " +
                     fixed_text(look.roughness[0], 3) + " / " +
                     fixed_text(look.roughness[1], 3) + " / " +
                     fixed_text(look.roughness[2], 3) + ", glints " +
                     face_words::percent(look.glint_share) + "\n";
  if (const auto lines = face_words::even_lines(look)) {
    text +=
        "    even lines (strength " + fixed_text(look.line_strength, 2) + "), " + *lines + "\n";
  }
  return text;
}

std::string judgement_line(const Judgement& j) {
  std::string text =
      "    looks " + std::string(j.verdict ? name_of(*j.verdict) : "like: cannot tell");
  if (j.verdict) {
    text += " (brittle " + face_words::percent(j.probability[0]) + ", mixed " +
            face_words::percent(j.probability[1]) + ", ductile " +
            face_words::percent(j.probability[2]) + ")";
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

std::string face_lines(const FaceMeasures& face,
                       std::size_t number,
                       const std::string& orientation) {
  std::string text = "  face " + std::to_string(number);
  if (face.section) {
    text += ": " + face_words::sides(face, ", ") + ", area " +
            face_words::with_u(face.section->area_m2, 1e6, "mm2");
  }
  text += "\n" + look_lines(face.appearance) + judgement_line(face.judgement) + "    " +
          face_words::layers(read_layers(face, orientation)) + "\n";
  if (face.shear) text += "    " + face_words::shear(*face.shear) + "\n";
  return text + remark_lines(face.remarks, "    ");
}

std::string pair_line(const SurfaceMeasurement& photo, const HalfPair& pair) {
  return "  faces " + std::to_string(pair.first + 1) + " and " +
         std::to_string(pair.second + 1) +
         " are taken for the halves of one bar (they differ by " +
         fixed_text(pair.unlikeness, 1) + " of what halves may); " +
         face_words::break_type(suggest_break(faces_of(photo, pair), true)) + "\n";
}

}  // namespace

std::string account_of(const SurfaceMeasurement& photo, const std::string& orientation) {
  std::string text = photo.photo + "\n";
  if (photo.card) text += card_line(*photo.card);
  for (std::size_t i = 0; i < photo.faces.size(); ++i)
    text += face_lines(photo.faces[i], i + 1, orientation);
  for (const HalfPair& pair : photo.pairs) text += pair_line(photo, pair);
  return text + remark_lines(photo.remarks, "  ");
}

}  // namespace swingloss
