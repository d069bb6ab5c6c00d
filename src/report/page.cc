// SPDX-License-Identifier: Apache-2.0
#include "report/page.h"

#include "core/expects.h"
#include "report/escape.h"
#include "report/page_sections.h"
#include "report/page_style.h"

#include <algorithm>

namespace swingloss {
namespace {

/// Nothing may be fetched: pictures are in the page itself, scripts there are none.
constexpr const char* kPolicy = "default-src 'none'; img-src data:; style-src 'unsafe-inline'";

/// A swing that does not regain its height.
constexpr const char* kEmblem =
    R"svg(<svg viewBox="0 0 216 138" aria-hidden="true" focusable="false">
<path d="M25.9 22 A85 85 0 0 0 180.1 89" fill="none" stroke="var(--rule)" stroke-width="2"/>
<path d="M26 22 H208 M180 89 H208" fill="none" stroke="var(--muted)" stroke-width="1" stroke-dasharray="3 4"/>
<path d="M202 25 V86 M198 32 L202 24 L206 32 M198 79 L202 87 L206 79" fill="none" stroke="var(--warm)" stroke-width="2"/>
<path d="M108 44 L26 22" stroke="var(--muted)" stroke-width="2"/>
<path d="M108 44 L180.1 89" stroke="var(--accent)" stroke-width="3"/>
<circle cx="26" cy="22" r="7" fill="var(--paper)" stroke="var(--muted)" stroke-width="2"/>
<circle cx="180.1" cy="89" r="8" fill="var(--accent)"/>
<circle cx="108" cy="44" r="4" fill="var(--ink)"/>
</svg>
)svg";

std::string count_words(std::size_t count, const char* one, const char* many) {
  return "<li><strong class=\"num\">" + std::to_string(count) + "</strong> " +
         (count == 1 ? one : many) + "</li>";
}

std::string tally(const SeriesResult& series) {
  const auto count = [&](auto&& is_counted) {
    return static_cast<std::size_t>(
        std::count_if(series.bars.begin(), series.bars.end(), is_counted));
  };
  const std::size_t failed =
      count([](const BarResult& bar) { return bar.problem.has_value(); });
  const std::size_t filmed =
      count([](const BarResult& bar) { return bar.swing && !bar.problem; });
  const std::size_t typed = series.bars.size() - failed - filmed;
  std::string html = "<ul class=\"tally\">" + count_words(series.bars.size(), "bar", "bars");
  if (series.ranking) html += count_words(series.ranking->groups.size(), "group", "groups");
  if (filmed > 0)
    html += count_words(filmed, "measured from its clip", "measured from their clips");
  if (typed > 0) html += count_words(typed, "typed value", "typed values");
  if (failed > 0) html += count_words(failed, "could not be measured", "could not be measured");
  return html + "</ul>\n";
}

std::string masthead(const SeriesResult& series) {
  std::string html =
      "<header class=\"masthead\">\n<div>\n<p class=\"kind\">Pendulum impact series</p>\n<h1>" +
      html_name(series.title) + "</h1>\n";
  if (!series.geometry_words.empty())
    html += "<p>" + html_text(series.geometry_words) + "</p>\n";
  return html + tally(series) + "</div>\n" + kEmblem + "</header>\n";
}

std::string demonstration_banner(const SeriesResult& series) {
  if (!series.rendered_or_invented) return {};
  const std::string label = series.label.empty() ? "invented or rendered data" : series.label;
  return "<aside class=\"demo\" aria-label=\"Demonstration\">Demonstration: " +
         html_text(label) + ". No real product was tested.</aside>\n";
}

/// A section with the words that lead to it.
struct Part {
  const char* id;
  const char* words;
  std::string html;
};

std::vector<Part> parts_of(const SeriesResult& series, const PagePictures& pictures) {
  return {{"verdict", "Verdict", verdict_section(series, pictures)},
          {"groups", "Groups", groups_section(series, pictures)},
          {"comparisons", "Comparisons", comparisons_section(series)},
          {"effects", "Effects", effects_section(series, pictures)},
          {"budget", "Budget", budget_section(series, pictures)},
          {"conditioning", "Conditioning", conditioning_section(series, pictures)},
          {"corrections", "By hand", corrections_section(series)},
          {"bars", "Every bar", bars_section(series, pictures)},
          {"faces", "Broken faces", faces_section(series, pictures)},
          {"unmeasured", "Not measured", unmeasured_section(series, pictures)},
          {"rigs", "Instrument", rigs_section(series)},
          {"method", "Method", method_section(series)},
          {"remarks", "Remarks", remarks_section(series)},
          {"cautions", "Cautions", cautions_section(series)}};
}

std::string navigation(const std::vector<Part>& parts) {
  std::string html = "<nav aria-label=\"Parts of the report\"><ul>\n";
  for (const Part& part : parts) {
    if (!part.html.empty())
      html += std::string("<li><a href=\"#") + part.id + "\">" + part.words + "</a></li>\n";
  }
  return html + "</ul></nav>\n";
}

/// Whether a bar was filmed or photographed: only these have plates.
bool has_plates(const SeriesResult& series) {
  return std::any_of(series.bars.begin(), series.bars.end(), [](const BarResult& bar) {
    return bar.swing.has_value() || bar.surface.has_value();
  });
}

}  // namespace

std::string bar_anchor(std::size_t index) { return "bar-" + std::to_string(index + 1); }

std::string report_page(const SeriesResult& series, const PagePictures& pictures) {
  expects(pictures.bars.size() == series.bars.size(), "pictures of another number of bars");
  const std::vector<Part> parts = parts_of(series, pictures);
  std::string html =
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta http-equiv=\"Content-Security-Policy\" content=\"" +
      std::string(kPolicy) +
      "\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
      "<meta name=\"color-scheme\" content=\"light dark\">\n<title>" +
      html_text(series.title) + ": which is toughest</title>\n<style>\n" + page_style() +
      "</style>\n</head>\n<body>\n<a class=\"skip\" href=\"#verdict\">To the verdict</a>\n" +
      demonstration_banner(series) + "<div class=\"sheet\">\n" + masthead(series) +
      navigation(parts) + "<main>\n";
  for (const Part& part : parts) html += part.html;
  html +=
      "</main>\n<footer><p>The same numbers for spreadsheets and programs are in <a "
      "href=\"results.csv\">results.csv</a> and "
      "<a href=\"results.json\">results.json</a>, the ranking in one line in <a "
      "href=\"summary.txt\">summary.txt</a>, all beside this file; pictures for slides and "
      "video in the " +
      std::string(has_plates(series) ? "folders charts and plates" : "folder charts") +
      ".</p></footer>\n";
  return html + "</div>\n</body>\n</html>\n";
}

}  // namespace swingloss
