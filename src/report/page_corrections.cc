// SPDX-License-Identifier: Apache-2.0
#include "report/escape.h"
#include "report/html.h"
#include "report/page_sections.h"
#include "report/words.h"

namespace swingloss {
namespace {

std::string bar_cell(const SeriesResult& series, std::size_t index) {
  return "<a href=\"#" + bar_anchor(index) + "\">" + html_name(series.bars[index].specimen.id) +
         "</a>";
}

/// The bar's energy without any hand, and as it counts now.
std::string energy_cell(const AppliedCorrection& applied, const BarResult* bar) {
  if (bar == nullptr) return "–";
  const auto words = [](const std::optional<Uncertain>& energy_J) {
    return energy_J ? html_text(with_u_words(*energy_J, "J")) : std::string("none");
  };
  return words(applied.automatic_energy_J) + " → " + words(bar->bar.energy_J);
}

HtmlRow row_of(const AppliedCorrection& applied,
               const std::string& bar_html,
               const BarResult* bar) {
  const Correction& c = applied.correction;
  std::string by_hand = html_text(applied.by_hand);
  if (!applied.not_used.empty())
    by_hand = "<strong>not used.</strong> " + html_text(applied.not_used);
  return {{bar_html,
           html_text(words_of(c.kind)),
           html_text(applied.automatic),
           by_hand,
           energy_cell(applied, bar),
           html_name(c.why),
           html_text(c.when)}};
}

}  // namespace

std::string corrections_section(const SeriesResult& series) {
  std::vector<HtmlRow> rows;
  for (const AppliedCorrection& applied : series.corrections) {
    const std::string& bar = applied.correction.bar;
    rows.push_back(row_of(applied, bar.empty() ? "the series" : html_name(bar), nullptr));
  }
  for (std::size_t i = 0; i < series.bars.size(); ++i) {
    for (const AppliedCorrection& applied : series.bars[i].corrections)
      rows.push_back(row_of(applied, bar_cell(series, i), &series.bars[i]));
  }
  if (rows.empty()) return {};
  std::string html =
      "<p>A person put these in the place of what the program found by itself. Nothing is "
      "lost: the automatic values stand beside them, and each can be taken back at the desk "
      "(<code>swingloss desk</code>).</p>\n" +
      html_table("Corrections that stand",
                 {{"Bar", false},
                  {"What", false},
                  {"Automatic", false},
                  {"By hand", false},
                  {"Energy of the bar", false},
                  {"Why", false},
                  {"When (UTC)", false}},
                 rows);
  if (series.corrections_undone > 0) {
    html += "<p class=\"muted\">Made once and taken back: " +
            std::to_string(series.corrections_undone) + ".</p>\n";
  }
  return html_section("corrections", "Corrected by hand", html);
}

}  // namespace swingloss
