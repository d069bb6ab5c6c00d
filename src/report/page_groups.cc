// SPDX-License-Identifier: Apache-2.0
#include "ranking/improvement.h"
#include "report/escape.h"
#include "report/html.h"
#include "report/material_colours.h"
#include "report/page_sections.h"
#include "report/words.h"

namespace swingloss {
namespace {

const std::string kNone = "–";

std::string second_line(const std::string& html) {
  return "<span class=\"second\">" + html + "</span>";
}

std::string counted_words(const GroupSummary& group) {
  std::string words = std::to_string(group.n_exact);
  const auto add = [&](int count, const char* what) {
    if (count > 0) words += ", " + std::to_string(count) + what;
  };
  add(group.n_above, " above");
  add(group.n_below, " below");
  add(group.n_apart, " apart");
  add(group.n_left_out, " left out");
  add(group.n_no_value, " no value");
  return words;
}

/// The mean and, where it is no plain average, what it is instead.
std::string mean_cell(const GroupSummary& group) {
  if (!group.mean && !group.bound) return kNone;
  std::string html = "<strong>" + html_text(mean_or_bound_words(group)) + "</strong>";
  if (group.method == MeanMethod::Likelihood) html += second_line("most likely");
  if (group.method == MeanMethod::OneBar) html += second_line("one bar");
  if (!group.mean)
    html += second_line(html_text(percent_words(group.bound_confidence)) + " sure");
  return html;
}

HtmlRow group_row(const SeriesResult& series, const GroupSummary& group) {
  const int decimals = decimals_of(group);
  return {{group_cell(series, group),
           mean_cell(group),
           interval_words(group.interval, decimals),
           interval_words(group.interval_with_shared, decimals),
           html_text(group.letters),
           group.p_best ? html_text(percent_words(*group.p_best)) : kNone,
           counted_words(group),
           group.s ? fixed_words(*group.s, decimals_for(*group.s)) : kNone,
           group.cv ? fixed_words(100.0 * *group.cv, 1) + " %" : kNone,
           letter_of(group.main_break_type)}};
}

/// How sure each place is. Left out where it would say nothing (one group) or not fit.
std::string places_table(const SeriesResult& series) {
  const std::vector<GroupSummary>& groups = series.ranking->groups;
  if (groups.size() < 2 || groups.size() > 10) return {};
  const std::string confidence = percent_words(series.ranking_options.confidence);
  std::vector<HtmlColumn> columns = {{"Group", false}, {"Places, " + confidence, true}};
  for (std::size_t place = 1; place <= groups.size(); ++place) {
    columns.push_back({"Place " + std::to_string(place), true});
  }
  std::vector<HtmlRow> rows;
  for (const GroupSummary& group : groups) {
    if (group.rank_probability.size() != groups.size()) continue;  // no value, no place
    HtmlRow row{{group_cell(series, group), places_words(group)}};
    for (const double chance : group.rank_probability) {
      row.cells.push_back(html_text(percent_words(chance)));
    }
    rows.push_back(row);
  }
  return rows.empty()
             ? std::string()
             : html_table(
                   "Places that may be theirs, and the probability of each", columns, rows);
}

/// Break types that the standards keep apart, where a group has several.
std::string break_classes_table(const SeriesResult& series) {
  std::vector<HtmlRow> rows;
  for (const GroupSummary& group : series.ranking->groups) {
    if (group.break_classes.size() < 2) continue;
    for (const BreakClass& part : group.break_classes) {
      const int decimals = decimals_of(part.interval, part.mean);
      rows.push_back({{group_cell(series, group),
                       html_text(part.name),
                       std::to_string(part.bars.size()),
                       part.mean ? fixed_words(*part.mean, decimals) : kNone,
                       interval_words(part.interval, decimals),
                       !part.in_group_mean ? "no"
                       : part.mean         ? "yes"
                                           : "as a limit"}});
    }
  }
  if (rows.empty()) return {};
  return html_table("Groups with several kinds of break, apart",
                    {{"Group", false},
                     {"Break", false},
                     {"Bars", true},
                     {"Mean", true},
                     {"Interval", true},
                     {"In the group’s mean", false}},
                    rows);
}

constexpr const char* kLegend =
    "<p class=\"muted\">The interval is that of the mean, from the scatter between bars; “with "
    "shared” joins what touches every bar of "
    "a group alike (rig, camera set-up) and cancels to a great part when groups of one rig are "
    "compared. s is the standard deviation "
    "between bars, CV the same as a share of the mean. P(best) is the probability of being the "
    "toughest of all. Groups that share a letter "
    "are not clearly apart. Break, by the letters of ISO 179-1: C complete, H hinge, P "
    "partial, N "
    "none; the most frequent kind among the bars counted. A bar that did not break has no "
    "value "
    "to be averaged: it enters the most likely mean as “more than”.</p>\n";

std::string strips_figure(const PagePictures& pictures) {
  return html_chart(
      pictures.strips,
      "The same bars by material and condition: each point is a bar, the stroke "
      "the mean, the band its interval. Open points with an arrow are bars beyond "
      "what could be measured, crosses bars left out. Where a point stands "
      "sideways within its column means nothing.",
      ChartWidth::Wide,
      "columns");
}

}  // namespace

std::string colour_dot(const SeriesResult& series, const std::string& material) {
  const auto colours = material_colours(series);
  const auto colour = colours.find(material);
  if (colour == colours.end()) return {};
  return "<span class=\"dot\" aria-hidden=\"true\" style=\"background:" +
         variable_of(colour->second) + "\"></span>";
}

std::string group_cell(const SeriesResult& series, const GroupSummary& group) {
  std::string second = group.condition;
  if (!group.orientation.empty()) second += (second.empty() ? "" : ", ") + group.orientation;
  std::string html = "<span class=\"of-group\">" + colour_dot(series, group.material) +
                     html_name(group.material);
  if (!second.empty()) html += "<span class=\"second\">" + html_name(second) + "</span>";
  return html + "</span>";
}

std::string groups_section(const SeriesResult& series, const PagePictures& pictures) {
  if (!series.ranking) return {};
  const Ranking& ranking = *series.ranking;
  const std::string unit = unit_of(ranking.quantity);
  std::vector<HtmlRow> rows;
  for (const GroupSummary& group : ranking.groups) rows.push_back(group_row(series, group));
  const std::vector<HtmlColumn> columns = {
      {"Group", false},
      {"Mean, " + unit, true},
      {percent_words(series.ranking_options.confidence) + " interval", true},
      {"with shared", true},
      {"Letters", false},
      {"P(best)", true},
      {"Bars", true},
      {"s", true},
      {"CV", true},
      {"Break", false}};
  return html_section(
      "groups",
      "Groups",
      html_table(
          title_of(ranking.quantity) + " in " + unit + ", toughest first", columns, rows) +
          kLegend + strips_figure(pictures) + places_table(series) +
          break_classes_table(series) + limits_table(series) + ties_table(series) +
          scatter_table(series, pictures));
}

std::string budget_section(const SeriesResult& series, const PagePictures& pictures) {
  if (!series.ranking) return {};
  std::string html;
  for (const GroupSummary& group : series.ranking->groups) {
    const std::string advice = improvement_of(group);
    if (advice.empty()) continue;
    html += "<h3>" + html_name(group.name) + "</h3>\n" + "<p>" + html_text(advice) + "</p>\n" +
            source_list(source_families(group.budget), unit_of(series.ranking->quantity));
  }
  if (html.empty()) return {};
  return html_section(
      "budget",
      "Where the doubt of each mean comes from",
      "<p>Parts of the standard uncertainty of each mean, largest first. Scatter and what "
      "belongs to one bar shrink with more "
      "bars; shared parts do not: only a better rig or camera set-up helps there.</p>\n" +
          html_chart(pictures.budget,
                     "Shares of the variance of each mean; to the right the largest, which is "
                     "worth improving next.",
                     ChartWidth::Wide) +
          html + drawn_table(series));
}

}  // namespace swingloss
