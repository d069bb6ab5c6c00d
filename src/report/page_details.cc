// SPDX-License-Identifier: Apache-2.0
#include "report/escape.h"
#include "report/html.h"
#include "report/page_sections.h"
#include "report/words.h"

#include <cmath>

namespace swingloss {
namespace {

const std::string kNone = "–";
constexpr double kDay_s = 86400.0;

std::string with_interval(double value, const Interval& interval, int decimals) {
  std::string words = fixed_words(value, decimals);
  if (!interval.low && !interval.high) return words;
  return words + " (" + interval_words(interval, decimals) + ")";
}

std::string median_cell(const std::optional<SurvivalCurve>& curve, int decimals) {
  if (!curve) return kNone;
  if (!curve->median) return "not reached";
  return with_interval(*curve->median, curve->median_interval, decimals);
}

std::string grubbs_cell(const SeriesResult& series, const GroupSummary& group) {
  if (!group.grubbs) return kNone;
  const std::string id =
      series.bars.at(group.exact_bars.at(group.grubbs->farthest)).specimen.id;
  return html_name(id) + " at " + fixed_words(group.grubbs->g, 2) +
         " standard deviations, limit " + fixed_words(group.grubbs->critical, 2) +
         (group.grubbs->flagged ? " <strong>look again</strong>" : "");
}

std::string scores_cell(const GroupSummary& group) {
  if (!group.normal_scores) return kNone;
  return fixed_words(group.normal_scores->correlation, 3) + ", limit " +
         fixed_words(group.normal_scores->critical, 3) +
         (group.normal_scores->flagged ? " <strong>not straight</strong>" : "");
}

std::string freedom_words(double degrees_of_freedom) {
  return std::isfinite(degrees_of_freedom) ? rounded_words(degrees_of_freedom, 2, "") : "many";
}

std::string days_words(const std::optional<double>& time_s) {
  return time_s ? fixed_words(std::ceil(*time_s / kDay_s), 0) : kNone;
}

HtmlRow record_row(const ConditioningRecord& record) {
  const auto& judged = record.judged;
  const bool has_law = judged && judged->better && judged->final_uptake;
  return {
      {html_name(record.name),
       std::to_string(record.bars.size()),
       judged ? fixed_words(judged->last_reading_s / kDay_s, 0) : kNone,
       judged ? small_change_words(judged->uptake.back()) : kNone,
       has_law ? small_change_words(*judged->final_uptake) : kNone,
       has_law ? name_of(*judged->better) : kNone,
       judged && judged->reached ? html_text(percent_words(*judged->reached)) : kNone,
       judged ? name_of(judged->settled) : kNone,
       judged ? days_words(judged->to_go_s) : kNone,
       record.size_changes.empty() ? kNone : small_change_words(record.size_changes.back())}};
}

}  // namespace

std::string limits_table(const SeriesResult& series) {
  std::vector<HtmlRow> rows;
  for (const GroupSummary& group : series.ranking->groups) {
    if (group.n_above + group.n_below == 0) continue;
    const int decimals = decimals_of(group);
    const auto& log_normal = group.log_normal;
    rows.push_back(
        {{group_cell(series, group),
          group.mean ? with_interval(*group.mean, group.interval, decimals)
                     : html_text(mean_or_bound_words(group)),
          log_normal ? with_interval(log_normal->median, log_normal->median_interval, decimals)
                     : kNone,
          median_cell(group.survival, decimals)}});
  }
  if (rows.empty()) return {};
  return html_table("Groups with bars of which only a limit is known",
                    {{"Group", false},
                     {"Mean, normal scatter", true},
                     {"Median, lognormal", true},
                     {"Median, no form assumed", true}},
                    rows) +
         "<p class=\"muted\">Likelihood counts a bar that held as “more than”, not as a "
         "value; intervals from the profile of the likelihood. The last column is "
         "Kaplan-Meier’s. Where the three lie far apart, the mean leans on the form "
         "assumed.</p>\n";
}

std::string scatter_table(const SeriesResult& series, const PagePictures& pictures) {
  std::vector<HtmlRow> rows;
  for (const GroupSummary& group : series.ranking->groups) {
    if (!group.grubbs && !group.normal_scores) continue;
    rows.push_back(
        {{group_cell(series, group), grubbs_cell(series, group), scores_cell(group)}});
  }
  if (rows.empty()) return {};
  return html_table(
             "Farthest bar of each group, and whether the scatter looks normal; no bar is "
             "dropped",
             {{"Group", false},
              {"Farthest bar (Grubbs)", false},
              {"Straightness of the normal scores", false}},
             rows) +
         html_chart(
             pictures.scores,
             "Each value’s distance from its group’s mean against that of a normal value "
             "of its place. Ringed: flagged by Grubbs’ test.",
             ChartWidth::Wide);
}

std::string ties_table(const SeriesResult& series) {
  std::vector<HtmlRow> rows;
  for (const RigTie& tie : series.ranking->ties) {
    rows.push_back({{html_name(tie.rig),
                     html_name(tie.base_rig),
                     html_name(tie.reference),
                     std::to_string(tie.n) + " and " + std::to_string(tie.n_base),
                     fixed_words(tie.factor, 4) + " ± " + fixed_words(tie.u_factor, 4)}});
  }
  if (rows.empty()) return {};
  return html_table("Instruments tied together by a common material",
                    {{"Instrument", false},
                     {"reads as", false},
                     {"by", false},
                     {"Bars", true},
                     {"times", true}},
                    rows);
}

std::string drawn_table(const SeriesResult& series) {
  std::vector<HtmlRow> rows;
  for (const BarResult& bar : series.bars) {
    if (!bar.drawn) continue;
    const DrawnBar& drawn = *bar.drawn;
    const int decimals = decimals_for(drawn.drawn.u);
    rows.push_back({{html_name(bar.specimen.id),
                     fixed_words(drawn.first_order_u, decimals),
                     freedom_words(drawn.degrees_of_freedom),
                     fixed_words(drawn.drawn.u, decimals) +
                         (drawn.differs ? " <strong>apart</strong>" : ""),
                     html_text(bound_sign(bar.bar.limit)) +
                         interval_words({drawn.drawn.symmetric.low, drawn.drawn.symmetric.high},
                                        decimals)}});
  }
  if (rows.empty()) return {};
  return html_table(
      "Single bars: uncertainty by first order and by drawing every source; > and <: of a "
      "limit",
      {{"Bar", false},
       {"u, first order", true},
       {"degrees of freedom", true},
       {"u, drawn", true},
       {"drawn interval", true}},
      rows);
}

std::string conditioning_section(const SeriesResult& series, const PagePictures& pictures) {
  std::vector<HtmlRow> rows;
  for (const ConditioningRecord& record : series.conditioning) {
    rows.push_back(record_row(record));
  }
  if (rows.empty()) return {};
  return html_section(
      "conditioning",
      "Conditioning",
      html_table("Weighings and sizes of bars and witness pieces",
                 {{"Piece", false},
                  {"Bars", true},
                  {"Days", true},
                  {"Uptake", true},
                  {"at the end", true},
                  {"Law", false},
                  {"Way done", true},
                  {"Settled", false},
                  {"Days to go", true},
                  {"Size against drawing", true}},
                 rows) +
          "<p class=\"muted\">Settled: what is still to come is at most 0.1 % of the mass. "
          "Bars "
          "broken before that are counted, and flagged where the groups’ remarks "
          "stand.</p>\n" +
          html_chart(
              pictures.conditioning,
              "Uptake by weight; the line is the better of diffusion into a plate and an "
              "exponential approach.",
              ChartWidth::Wide));
}

}  // namespace swingloss
