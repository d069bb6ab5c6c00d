// SPDX-License-Identifier: Apache-2.0
#include "report/escape.h"
#include "report/html.h"
#include "report/page_sections.h"
#include "report/words.h"

#include <string>
#include <vector>

namespace swingloss {
namespace {

const std::string kNone = "–";

/// The cell of each group: comparisons are many more than groups.
std::vector<std::string> group_cells(const SeriesResult& series) {
  std::vector<std::string> cells;
  for (const GroupSummary& group : series.ranking->groups)
    cells.push_back(group_cell(series, group));
  return cells;
}

/// The second group and, where that is more than one thing, all in which the two differ.
std::string other_cell(const std::string& group, const Comparison& comparison) {
  std::string html = group;
  if (comparison.differ_in.size() > 1) {
    html += "<span class=\"second mixed\">" + html_text(list_words(comparison.differ_in, 5)) +
            " differ</span>";
  }
  return html;
}

std::string verdict_cell(const Comparison& comparison) {
  std::string html = verdict_word(comparison.verdict);
  if (comparison.equivalent) html += " <span class=\"word even\">no big difference</span>";
  if (!comparison.bars_words.empty()) {
    html += "<br><span class=\"muted\">needed: " + html_text(comparison.bars_words) + "</span>";
  } else if (comparison.bars_to_resolve) {
    html += "<br><span class=\"muted\">needed: " + std::to_string(*comparison.bars_to_resolve) +
            " bars a group</span>";
  }
  return html;
}

HtmlRow comparison_row(const std::vector<std::string>& groups, const Comparison& comparison) {
  const Interval& interval = comparison.difference_interval;
  const bool bounded = interval.low && interval.high && *interval.high > *interval.low;
  const int decimals = bounded ? decimals_for(0.25 * (*interval.high - *interval.low)) : 2;
  return {{groups.at(comparison.first),
           other_cell(groups.at(comparison.second), comparison),
           verdict_cell(comparison),
           comparison.difference ? fixed_words(*comparison.difference, decimals) : kNone,
           interval_words(interval, decimals),
           comparison.ratio ? ratio_words(*comparison.ratio) : kNone,
           ratio_interval_words(comparison.ratio_interval),
           html_text(comparison.p_holm ? p_value_words(*comparison.p_holm) : kNone),
           "<span class=\"whole\">" + html_text(comparison.method) + "</span>"}};
}

std::string overall_line(const Ranking& ranking) {
  if (!ranking.overall) return {};
  const WelchAnova& test = *ranking.overall;
  return "<p class=\"muted\">All groups at once (Welch’s analysis of variance): F = " +
         rounded_words(test.f, 3, "") + " with " +
         rounded_words(test.degrees_of_freedom_1, 3, "") + " and " +
         rounded_words(test.degrees_of_freedom_2, 3, "") + " degrees of freedom, " +
         html_text(p_words(test.p_value)) + ".</p>\n";
}

std::string change_interval(const Interval& interval) {
  const auto words = [](double change) { return change_percent_words(change); };
  if (interval.low && interval.high)
    return words(*interval.low) + " to " + words(*interval.high);
  if (interval.low) return "above " + words(*interval.low);
  if (interval.high) return "below " + words(*interval.high);
  return kNone;
}

HtmlRow effect_row(const SeriesResult& series, const FactorEffect& effect) {
  const GroupSummary& group = series.ranking->groups.at(effect.group);
  return {
      {colour_dot(series, group.material) + html_name(effect.setting),
       html_name(effect.level) + " against " + html_name(effect.base),
       verdict_word(effect.verdict),
       effect.change ? "<strong>" + change_percent_words(*effect.change) + "</strong>" : kNone,
       change_interval(effect.change_interval),
       html_text(effect.p_holm ? p_value_words(*effect.p_holm) : kNone)}};
}

std::string contrast_lines(const Ranking& ranking) {
  std::string html;
  for (const EffectContrast& contrast : ranking.effect_contrasts) {
    html += "<p>" + html_name(contrast.level) + " against " + html_name(contrast.base) +
            ": the effect " +
            (contrast.differs ? "<strong>differs</strong> between"
                              : "is not shown to differ between") +
            " the " + std::to_string(contrast.effects.size()) + " settings it was tried in (" +
            html_text(p_words(contrast.test.p_value)) + ").</p>\n";
  }
  return html;
}

std::string effect_sentences(const Ranking& ranking) {
  if (ranking.effect_sentences.empty()) return contrast_lines(ranking);
  std::string html = "<ul class=\"verdict\">\n";
  for (const std::string& sentence : ranking.effect_sentences)
    html += "<li>" + html_text(unbroken(sentence)) + "</li>\n";
  return html + "</ul>\n";
}

}  // namespace

std::string verdict_word(Verdict verdict) {
  const char* style = verdict == Verdict::Clear    ? "clear"
                      : verdict == Verdict::Likely ? "likely"
                                                   : "open";
  return std::string("<span class=\"word ") + style + "\">" + html_text(name_of(verdict)) +
         "</span>";
}

std::string comparisons_section(const SeriesResult& series) {
  if (!series.ranking || series.ranking->comparisons.empty()) return {};
  const Ranking& ranking = *series.ranking;
  const std::string confidence = percent_words(series.ranking_options.confidence);
  const std::vector<std::string> groups = group_cells(series);
  std::vector<HtmlRow> rows;
  for (const Comparison& comparison : ranking.comparisons)
    rows.push_back(comparison_row(groups, comparison));
  const std::vector<HtmlColumn> columns = {{"Ahead", false},
                                           {"of", false},
                                           {"Verdict", false},
                                           {"Difference", true},
                                           {confidence + " interval", true},
                                           {"Ratio", true},
                                           {confidence + " interval", true},
                                           {"p (Holm)", true},
                                           {"By", false}};
  return html_section(
      "comparisons",
      "Comparisons",
      html_table(
          "Every pair of groups; differences in " + unit_of(ranking.quantity), columns, rows) +
          "<p class=\"muted\"><strong>Clear</strong>: different after Holm’s correction for "
          "looking at all pairs at once. "
          "<strong>Likely</strong>: the order holds with " +
          confidence +
          " confidence when this pair is taken alone. "
          "<strong>Not resolved</strong>: neither; it does not mean equal, these bars cannot "
          "tell. p (Holm) is the p-value after the correction. Where two things or more "
          "differ, the difference is that of all of them together; what one of them does alone "
          "is told only by pairs that differ in nothing else" +
          std::string(ranking.effects.empty()
                          ? ""
                          : " (<a href=\"#effects\">effect of condition and orientation</a>)") +
          ".</p>\n" + overall_line(ranking));
}

std::string effects_section(const SeriesResult& series, const PagePictures& pictures) {
  if (!series.ranking || series.ranking->effects.empty()) return {};
  const Ranking& ranking = *series.ranking;
  const std::string confidence = percent_words(series.ranking_options.confidence);
  std::vector<HtmlRow> rows;
  for (const FactorEffect& effect : ranking.effects) rows.push_back(effect_row(series, effect));
  std::string html = effect_sentences(ranking);
  html +=
      html_chart(pictures.effects,
                 "Change of the mean against the base; the line is the " + confidence +
                     " interval. Where it keeps to one side of zero, the effect is shown for "
                     "this pair taken alone.",
                 ChartWidth::Wide,
                 "effects");
  html += html_table("Effect of condition and orientation within each material",
                     {{"Everything else alike", false},
                      {"Changed", false},
                      {"Verdict", false},
                      {"Change", true},
                      {confidence + " interval", true},
                      {"p (Holm)", true}},
                     rows);
  return html_section("effects", "Effect of condition and orientation", html);
}

}  // namespace swingloss
