// SPDX-License-Identifier: Apache-2.0
#include "report/bar_remarks.h"
#include "report/escape.h"
#include "report/html.h"
#include "report/page_sections.h"

namespace swingloss {
namespace {

/// Bars with a warning, each once, with the way to it. Their notes stay with them.
std::string bars_with_warnings(const SeriesResult& series) {
  std::string links;
  for (std::size_t i = 0; i < series.bars.size(); ++i) {
    if (series.bars[i].problem) continue;  // named in the verdict already
    for (const Remark& remark : bar_remarks(series.bars[i])) {
      if (remark.severity == Severity::Note) continue;
      links += (links.empty() ? "<a href=\"#" : ", <a href=\"#") + bar_anchor(i) + "\">" +
               html_name(series.bars[i].specimen.id) + "</a>";
      break;
    }
  }
  if (links.empty()) return {};
  return "<p>Single bars have warnings of their own: " + links + ".</p>\n";
}

}  // namespace

Remarks ranking_remarks(const Ranking& ranking) {
  Remarks remarks = ranking.remarks;
  for (const GroupSummary& group : ranking.groups) {
    for (Remark remark : group.remarks) {
      remark.text = group.name + ": " + remark.text;
      remarks.push_back(remark);
    }
  }
  return remarks;
}

std::string remarks_section(const SeriesResult& series) {
  Remarks remarks = series.remarks;
  if (series.ranking) append(remarks, ranking_remarks(*series.ranking));
  const std::string html = html_remarks(remarks) + bars_with_warnings(series);
  return html.empty() ? html : html_section("remarks", "Remarks", html);
}

}  // namespace swingloss
