// SPDX-License-Identifier: Apache-2.0
#include "report/escape.h"
#include "report/html.h"
#include "report/page_sections.h"
#include "report/words.h"

namespace swingloss {
namespace {

/// Which bars are missing from the verdict, before anyone reads it.
std::string missing_notice(const SeriesResult& series) {
  std::string links;
  std::size_t count = 0;
  for (std::size_t i = 0; i < series.bars.size(); ++i) {
    if (!series.bars[i].problem) continue;
    links += (count++ == 0 ? " " : ", ") + ("<a href=\"#" + bar_anchor(i) + "\">") +
             html_name(series.bars[i].specimen.id) + "</a>";
  }
  if (count == 0) return {};
  return "<p class=\"notice\"><strong>" + std::to_string(count) +
         (count == 1 ? " bar" : " bars") + " could not be measured</strong> and " +
         (count == 1 ? "is" : "are") + " not in the verdict:" + links + ".</p>\n";
}

std::string chart_figure(const PagePictures& pictures, double confidence) {
  if (pictures.ranking_wide.empty()) return {};
  return "<figure>\n<div class=\"chart wide\">" + pictures.ranking_wide +
         "</div>\n<div class=\"chart narrow\">" + pictures.ranking_narrow +
         "</div>\n<figcaption>Toughest on top. Each filled point is a bar; an open point with "
         "an arrow is a bar beyond what could be measured; a cross is a bar left out. The "
         "upright stroke is the mean, the band its " +
         percent_words(confidence) +
         " interval from the scatter between bars. A band that ends in an arrow goes on beyond "
         "the chart. Groups that share a letter are not resolved. The height of a point within "
         "its row means nothing.</figcaption>\n</figure>\n";
}

}  // namespace

std::string verdict_section(const SeriesResult& series, const PagePictures& pictures) {
  std::string html;
  if (!series.ranking) {
    html += "<p class=\"lead\">No bar could be measured, so there is nothing to rank.</p>\n" +
            missing_notice(series);
  } else {
    html += "<ul class=\"verdict\">\n";
    for (const std::string& sentence : series.ranking->verdict_sentences) {
      html += "<li>" + html_text(sentence) + "</li>\n";
    }
    html += "</ul>\n" + missing_notice(series) +
            chart_figure(pictures, series.ranking_options.confidence);
  }
  return html_section("verdict", "Verdict", html + html_remarks(series.remarks));
}

}  // namespace swingloss
