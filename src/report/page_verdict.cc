// SPDX-License-Identifier: Apache-2.0
#include "report/escape.h"
#include "report/html.h"
#include "report/page_sections.h"
#include "report/words.h"

#include <algorithm>

namespace swingloss {
namespace {

bool is_more_than_a_note(const Remark& remark) { return remark.severity != Severity::Note; }

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
         "an arrow is a bar beyond what could be measured, which counts in the mean as “more "
         "than”, never as a value; a cross is a bar left out. The upright stroke is the mean, "
         "the band its " +
         percent_words(confidence) +
         " interval from the scatter between bars. A band that ends in a tip goes on beyond "
         "the chart. Groups that share a letter are not clearly apart, although one stands "
         "above the other; whether bands overlap does not decide it. The height of a point "
         "within its row means nothing.</figcaption>\n</figure>\n";
}

/// Place by place; the first sentence is the lead and stands above the chart.
std::string in_words(const std::vector<std::string>& sentences) {
  if (sentences.size() < 2) return {};
  std::string html = "<ol class=\"verdict\">\n";
  for (std::size_t i = 1; i < sentences.size(); ++i)
    html += "<li>" + html_text(unbroken(sentences[i])) + "</li>\n";
  return html + "</ol>\n";
}

/// That there is something to bear in mind, and where it stands.
std::string remarks_notice(const SeriesResult& series) {
  const auto warnings = static_cast<std::size_t>(
      std::count_if(series.remarks.begin(), series.remarks.end(), is_more_than_a_note));
  const auto of_ranking = series.ranking ? ranking_remarks(*series.ranking) : Remarks();
  const auto more = static_cast<std::size_t>(
      std::count_if(of_ranking.begin(), of_ranking.end(), is_more_than_a_note));
  const std::size_t count = warnings + more;
  if (count == 0) return {};
  return "<p class=\"muted\">To be read with it: <a href=\"#remarks\">" +
         std::to_string(count) + (count == 1 ? " warning" : " warnings") +
         "</a> on the series as a whole.</p>\n";
}

}  // namespace

std::string verdict_section(const SeriesResult& series, const PagePictures& pictures) {
  std::string html;
  if (!series.ranking) {
    html += "<p class=\"lead\">No bar could be measured, so there is nothing to rank.</p>\n" +
            missing_notice(series);
  } else {
    const std::vector<std::string>& sentences = series.ranking->verdict_sentences;
    if (!sentences.empty())
      html += "<p class=\"lead\">" + html_text(unbroken(sentences.front())) + "</p>\n";
    html += missing_notice(series) + chart_figure(pictures, series.ranking_options.confidence) +
            in_words(sentences);
  }
  return html_section("verdict", "Verdict", html + remarks_notice(series));
}

}  // namespace swingloss
