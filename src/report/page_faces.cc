// SPDX-License-Identifier: Apache-2.0
#include "core/number_text.h"
#include "report/contact_sheet.h"
#include "report/escape.h"
#include "report/face_words.h"
#include "report/html.h"
#include "report/page_sections.h"
#include "report/words.h"
#include "series/look_at_faces.h"
#include "surface/judge.h"

namespace swingloss {
namespace {

std::string percent(double share) { return fixed_text(100.0 * share, 0) + "\u00A0%"; }

std::string sizes_of(const BarResult& bar) {
  for (const SurfaceMeasurement& photo : bar.surface->photos) {
    for (const FaceMeasures& face : photo.faces) {
      if (!face.section) continue;
      return with_u_words(1e3 * face.section->thickness_m, "mm") + " × " +
             with_u_words(1e3 * face.section->width_m, "mm") +
             (face.notch_found ? "" : " (no notch root seen)");
    }
  }
  return "";
}

std::string look_of(const BarResult& bar) {
  const FaceMeasures* face = speaking_face(*bar.surface);
  if (face == nullptr) return "cannot tell";
  const auto k = std::size_t(*face->judgement.verdict);
  return std::string(name_of(*face->judgement.verdict)) + ", " +
         percent(face->judgement.probability[k]);
}

std::string story_of(const BarResult& bar) {
  return "<p>" + html_text(face_words::break_type(break_guess_of(*bar.surface))) + ".<br>" +
         html_text(face_words::layers(layers_of_bar(bar))) + ".</p>\n";
}

std::string letter_words(const BarResult& bar) {
  const BreakGuess guess = break_guess_of(*bar.surface);
  return guess.letter.empty() ? "cannot tell" : guess.letter;
}

std::string picture(const std::string& jpeg, const std::string& words) {
  return "<figure class=\"chart\"><img src=\"" + data_uri("image/jpeg", jpeg) + "\" alt=\"" +
         html_text(words) + "\" style=\"max-width:100%\"><figcaption>" + html_text(words) +
         "</figcaption></figure>\n";
}

Remarks refusals_of(const SeriesResult& series) {
  Remarks out;
  for (const BarResult& bar : series.bars) {
    if (!bar.surface) continue;
    for (Remark remark : bar.surface->refused) {
      remark.text = bar.specimen.id + ": " + remark.text;
      out.push_back(remark);
    }
  }
  return out;
}

constexpr const char* kWorth =
    "<p class=\"muted\">The look explains an energy and never changes it. The model that "
    "judges was "
    "trained on rendered faces alone, so its probabilities are modest; learning from your own "
    "labels "
    "(swingloss surface --learn) is the better way. Roughness, texture and lightening are "
    "relative "
    "to each face itself. A break type that was typed stands; where none was, C or H from the "
    "faces is used, and said.</p>\n";

}  // namespace

std::string faces_section(const SeriesResult& series, const PagePictures& pictures) {
  const Quantity quantity = series.ranking ? series.ranking->quantity : Quantity::Energy_J;
  std::vector<HtmlRow> rows;
  std::string plates;
  for (const std::size_t i : bars_by_energy(series)) {
    const BarResult& bar = series.bars[i];
    const auto& value = quantity_of(bar.bar, quantity);
    rows.push_back(
        {{"<a href=\"#" + bar_anchor(i) + "\">" + html_name(bar.specimen.id) + "</a>",
          html_name(bar.specimen.material),
          value && !bar.problem ? html_text(with_u_words(*value, unit_of(quantity))) : "",
          html_text(look_of(bar)),
          html_text(letter_words(bar)),
          html_text(name_of(layers_of_bar(bar).course)),
          html_text(sizes_of(bar))}});
    const std::string& jpeg = pictures.bars.at(i).face_jpeg;
    if (!jpeg.empty()) {
      plates += "<details class=\"face\"><summary>" + html_name(bar.specimen.id) + ", " +
                html_text(look_of(bar)) + "</summary>\n" + story_of(bar) +
                picture(jpeg, "Broken faces of " + bar.specimen.id) + "</details>\n";
    }
  }
  const Remarks refused = refusals_of(series);
  if (rows.empty() && refused.empty()) return {};
  std::string html = kWorth;
  if (!rows.empty()) {
    html += html_table("Faces from the least energy to the most",
                       {{"Bar"},
                        {"Material"},
                        {"Value", true},
                        {"Look"},
                        {"Break type as it looks"},
                        {"Crack ran"},
                        {"Section on the photograph", true}},
                       rows);
  }
  if (!pictures.contact_jpeg.empty()) {
    html += picture(pictures.contact_jpeg,
                    "All faces, from the bar that took least to the one that took most");
  }
  html += plates;
  if (!refused.empty()) html += html_remarks(refused);
  return html_section("faces", "Broken faces", html);
}

}  // namespace swingloss
