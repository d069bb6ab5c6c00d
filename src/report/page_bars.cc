// SPDX-License-Identifier: Apache-2.0
#include "core/expects.h"
#include "core/joined.h"
#include "report/bar_remarks.h"
#include "report/escape.h"
#include "report/html.h"
#include "report/page_sections.h"
#include "report/words.h"

namespace swingloss {
namespace {

std::string limited(const std::optional<Uncertain>& value,
                    Limit limit,
                    const std::string& unit) {
  if (!value) return {};
  const std::string sign = limit_sign(limit);
  return html_text(sign + (sign.empty() ? "" : "\u00A0") + with_u_words(*value, unit));
}

/// What the swing showed, unless the break type says it already.
std::string outcome_words(Outcome outcome, BreakType type) {
  switch (outcome) {
    case Outcome::Broken:
      return type == BreakType::Unknown ? "broke" : "";
    case Outcome::NotBroken:
      return type == BreakType::NonBreak ? "" : "did not break";
    case Outcome::FreeSwing:
      return "the clip shows a free swing";
    case Outcome::Unclear:
      return "the clip does not show whether it broke";
  }
  return "";
}

std::string value_lines(const BarResult& bar, Quantity quantity) {
  const auto& value = quantity_of(bar.bar, quantity);
  const bool strength = quantity == Quantity::Strength_kJ_m2;
  std::vector<std::string> second;
  if (strength && value) second.push_back(limited(bar.bar.energy_J, bar.bar.limit, "J"));
  if (!value) second.emplace_back(limited(bar.bar.energy_J, bar.bar.limit, "J"));
  second.push_back("break: " + break_words(bar.bar.break_type));
  if (bar.swing)
    second.push_back(outcome_words(bar.swing->measurement.outcome, bar.bar.break_type));
  std::string html = "<div>";
  if (value)
    html += "<p class=\"value\">" + limited(value, bar.bar.limit, unit_of(quantity)) + "</p>";
  return html + "<p class=\"second\">" + joined(second, " · ") + "</p></div>\n";
}

std::string strip_figures(const BarPictures& pictures, const std::string& id) {
  if (!pictures.strip_fault.empty()) {
    return html_remarks({{"no-strip", Severity::Warning, pictures.strip_fault}});
  }
  if (pictures.strip.empty()) return {};
  std::string html = "<div class=\"strip\">\n";
  for (const PlatePanel& panel : pictures.strip) {
    html += "<figure><img src=\"" + data_uri("image/jpeg", panel.jpeg) + "\" width=\"" +
            std::to_string(panel.width_px) + "\" height=\"" + std::to_string(panel.height_px) +
            "\" alt=\"" + html_text(id + ", " + panel.event + ": " + panel.description) +
            "\"><figcaption><strong>" + html_text(panel.event) + "</strong> " +
            html_text(panel.description) + "</figcaption></figure>\n";
  }
  return html + "</div>\n";
}

const char* words_of(TrackMode mode) {
  switch (mode) {
    case TrackMode::Bare:
      return "by its own look";
    case TrackMode::Dots:
      return "by two dots";
    case TrackMode::Sticker:
      return "by its sticker";
  }
  return "";
}

std::string clip_line(const BarResult& bar) {
  if (!bar.swing) return {};
  const SwingRecord& swing = *bar.swing;
  if (swing.typed_track)
    return "<p class=\"muted\">Angles from the file " + html_name(swing.clip) + ".</p>\n";
  const ClipInfo& clip = swing.arm.clip;
  std::vector<std::string> facts = {"Clip " + html_name(swing.clip)};
  if (clip.width_px > 0)
    facts.push_back(std::to_string(clip.width_px) + " × " + std::to_string(clip.height_px));
  if (!clip.codec.empty()) facts.push_back(html_text(clip.codec));
  if (swing.arm.frames > 0) facts.push_back(std::to_string(swing.arm.frames) + " pictures");
  std::string html = "<p class=\"muted\">" + joined(facts, ", ");
  if (!swing.arm.angles.samples.empty()) {
    html += std::string("; the arm was followed ") + words_of(swing.arm.mode);
    if (!swing.arm.why_mode.empty()) html += " (" + html_text(swing.arm.why_mode) + ")";
  }
  return html + ".</p>\n";
}

std::string chart_figure(const BarPictures& pictures) {
  return html_chart(
      pictures.angle_chart,
      "Above: measured angles from rest, the release side positive (points; open "
      "ones were left out of the fit), and the fitted law (line). Below: measured "
      "minus fitted, with one standard uncertainty.");
}

std::string film_line(const BarPictures& pictures) {
  std::string html;
  if (!pictures.film.empty())
    html += "<p class=\"muted\"><a href=\"" + html_text(pictures.film) +
            "\">Film of this swing</a> with the arm, the read-outs and a slow replay of the "
            "blow, beside this file.</p>\n";
  if (!pictures.film_fault.empty())
    html += html_remarks({{"no-film", Severity::Warning, pictures.film_fault}});
  return html;
}

std::string why_left_out(const Bar& bar) {
  if (!bar.left_out) return {};
  return html_remarks(
      {{"left-out", Severity::Warning, "Shown, not counted: " + bar.left_out_reason}});
}

std::string doubt_sources(const std::optional<Uncertain>& value, Quantity quantity) {
  if (!value || value->parts().empty()) return {};
  const std::string unit = unit_of(quantity);
  return "<h4>Where the ± of " + html_text(with_u_words(*value, unit)) + " comes from</h4>\n" +
         source_list(source_families(*value), unit);
}

std::string swing_pair(const BarResult& bar, const BarPictures& pictures, Quantity quantity) {
  if (!bar.swing) return {};
  const std::string left =
      chart_figure(pictures) + doubt_sources(quantity_of(bar.bar, quantity), quantity);
  const std::string right = swing_dial(bar.swing->measurement) + energy_ledger(bar);
  if (left.empty() && right.empty()) return {};
  return "<div class=\"pair\">\n<div>" + left + "</div>\n<div>" + right + "</div>\n</div>\n";
}

/// A refusal that the problem quotes is not said again.
Remarks remarks_shown(const BarResult& bar) {
  Remarks shown;
  for (const Remark& remark : bar_remarks(bar)) {
    if (!bar.problem || bar.problem->text.find(remark.text) == std::string::npos)
      shown.push_back(remark);
  }
  return shown;
}

std::string problem_line(const BarResult& bar) {
  if (!bar.problem) return {};
  return "<ul class=\"remarks\"><li class=\"problem\"><span class=\"sign\" "
         "aria-hidden=\"true\">×</span><span><strong>not measured</strong> " +
         html_text(bar.problem->text) + "</span></li></ul>\n";
}

std::string bar_article(const SeriesResult& series,
                        std::size_t index,
                        const BarPictures& pictures) {
  const BarResult& bar = series.bars[index];
  const Quantity quantity = series.ranking ? series.ranking->quantity : Quantity::Energy_J;
  const auto& value = quantity_of(bar.bar, quantity);
  const std::string anchor = bar_anchor(index);
  const std::string group =
      joined({bar.specimen.material, bar.specimen.condition, bar.specimen.orientation}, ", ");
  std::string html = "<article class=\"bar\" id=\"" + anchor + "\" aria-labelledby=\"" +
                     anchor + "-head\">\n<header><div><h3 id=\"" + anchor + "-head\">" +
                     html_name(bar.specimen.id) + "</h3><p class=\"group\">" +
                     html_name(group) + "</p></div>\n";
  html += (bar.problem ? std::string() : value_lines(bar, quantity)) + "</header>\n" +
          problem_line(bar);
  html += why_left_out(bar.bar) + strip_figures(pictures, bar.specimen.id) +
          swing_pair(bar, pictures, quantity);
  if (!bar.swing) html += doubt_sources(value, quantity);
  html += html_remarks(remarks_shown(bar)) + clip_line(bar) + film_line(pictures);
  if (!bar.swing && !bar.problem) html += "<p class=\"muted\">A typed value.</p>\n";
  if (!bar.specimen.note.empty())
    html += "<p class=\"muted\">Note: " + html_name(bar.specimen.note) + "</p>\n";
  return html + "</article>\n";
}

std::string energies_figure(const PagePictures& pictures) {
  return html_chart(pictures.energies,
                    "What each bar took, group by group. The line is one standard uncertainty "
                    "of this bar’s own value, hidden where it is shorter than the point; bars "
                    "of one group scatter more than that where they differ.",
                    ChartWidth::Wide,
                    "columns");
}

std::string articles(const SeriesResult& series,
                     const PagePictures& pictures,
                     bool with_problem) {
  std::string html;
  for (std::size_t i = 0; i < series.bars.size(); ++i) {
    if (series.bars[i].problem.has_value() == with_problem)
      html += bar_article(series, i, pictures.bars.at(i));
  }
  return html;
}

}  // namespace

std::string bars_section(const SeriesResult& series, const PagePictures& pictures) {
  const std::string html = articles(series, pictures, false);
  return html.empty() ? html
                      : html_section("bars", "Every bar", energies_figure(pictures) + html);
}

std::string unmeasured_section(const SeriesResult& series, const PagePictures& pictures) {
  const std::string html = articles(series, pictures, true);
  return html.empty() ? html
                      : html_section("unmeasured", "Bars that could not be measured", html);
}

}  // namespace swingloss
