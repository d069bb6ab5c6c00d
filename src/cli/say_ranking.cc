// SPDX-License-Identifier: Apache-2.0
#include "cli/say_ranking.h"

#include "cli/text_table.h"
#include "ranking/improvement.h"
#include "report/words.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

constexpr std::size_t kMostPairs = 28;  // eight groups
constexpr double kDay_s = 86400.0;

std::string pairs_table(const Ranking& ranking) {
  if (ranking.comparisons.empty() || ranking.comparisons.size() > kMostPairs) return {};
  const std::string margin = "within " + percent_words(ranking.options.equivalence_margin);
  TextTable table;
  table.is_number = {false, false, true, false, true, false, false, false};
  table.rows.push_back({"ahead",
                        "of",
                        "ratio",
                        "interval",
                        "p (Holm)",
                        "verdict",
                        "they differ in",
                        "bars needed"});
  for (const Comparison& pair : ranking.comparisons) {
    table.rows.push_back(
        {ranking.groups.at(pair.first).name,
         ranking.groups.at(pair.second).name,
         pair.ratio ? ratio_words(*pair.ratio) : "-",
         ratio_interval_words(pair.ratio_interval),
         pair.p_holm ? p_value_words(*pair.p_holm) : "-",
         std::string(name_of(pair.verdict)) + (pair.equivalent ? ", " + margin : ""),
         list_words(pair.differ_in, 5),
         pair.bars_words});
  }
  return "\nEvery pair; " + margin + ": shown to lie no farther apart than that\n" +
         text_of(table);
}

std::string list_of(const std::string& head, const std::vector<std::string>& lines) {
  std::string text = lines.empty() ? "" : "\n" + head + "\n";
  for (const std::string& line : lines) text += "  - " + line + "\n";
  return text;
}

std::string median_words(const SurvivalCurve& curve, int decimals) {
  std::string median = curve.median ? fixed_words(*curve.median, decimals) : "not reached";
  const Interval& interval = curve.median_interval;
  if (!interval.low && !interval.high) return median;
  return median + " (" + interval_words(interval, decimals) + ")";
}

/// Three views of a group in which bars held: how far they agree shows how much is assumed.
std::string censored_table(const Ranking& ranking) {
  TextTable table;
  table.is_number = {false, false, false, false};
  table.rows.push_back({"group", "normal: mean", "lognormal: median", "no form: median"});
  for (const GroupSummary& group : ranking.groups) {
    if (group.n_above + group.n_below == 0) continue;
    const int decimals = decimals_of(group);
    const auto& log_normal = group.log_normal;
    table.rows.push_back(
        {group.name,
         mean_or_bound_words(group) +
             (group.mean ? " (" + interval_words(group.interval, decimals) + ")" : ""),
         log_normal ? fixed_words(log_normal->median, decimals) + " (" +
                          interval_words(log_normal->median_interval, decimals) + ")"
                    : "-",
         group.survival ? median_words(*group.survival, decimals) : "-"});
  }
  if (table.rows.size() == 1) return {};
  return "\nGroups with limits, by likelihood and by Kaplan-Meier\n" + text_of(table);
}

std::vector<std::string> ties_of(const Ranking& ranking) {
  std::vector<std::string> lines;
  for (const RigTie& tie : ranking.ties) {
    lines.push_back(tie.rig + " times " + fixed_words(tie.factor, 4) + " ± " +
                    fixed_words(tie.u_factor, 4) + " reads as " + tie.base_rig + ", by " +
                    tie.reference + " (" + std::to_string(tie.n) + " and " +
                    std::to_string(tie.n_base) + " bars)");
  }
  return lines;
}

bool is_all_scatter(const Ranking& ranking) {
  return std::all_of(
      ranking.groups.begin(), ranking.groups.end(), [](const GroupSummary& group) {
        return has_scatter(group) && !group.budget.empty() &&
               group.budget.front().kind == BudgetKind::Scatter;
      });
}

std::vector<std::string> improvements_of(const Ranking& ranking) {
  if (is_all_scatter(ranking)) {
    return {
        "in every group the bars themselves differ most: more bars make the means surer, a "
        "better rig does not."};
  }
  std::vector<std::string> lines;
  for (const GroupSummary& group : ranking.groups) {
    const std::string words = improvement_of(group);
    if (!words.empty()) lines.push_back(group.name + ": " + words);
  }
  return lines;
}

std::string conditioning_table(const SeriesResult& result) {
  if (result.conditioning.empty()) return {};
  TextTable table;
  table.is_number = {false, true, true, true, true, false, true, true};
  table.rows.push_back({"piece",
                        "bars",
                        "days",
                        "uptake",
                        "of its way",
                        "settled",
                        "days to go",
                        "size change"});
  for (const ConditioningRecord& record : result.conditioning) {
    const auto& judged = record.judged;
    const bool known = judged && judged->reached;
    table.rows.push_back(
        {record.name,
         std::to_string(record.bars.size()),
         judged ? fixed_words(judged->last_reading_s / kDay_s, 0) : "-",
         judged ? small_change_words(judged->uptake.back()) : "-",
         known ? percent_words(*judged->reached) : "-",
         judged ? name_of(judged->settled) : "-",
         judged && judged->to_go_s ? fixed_words(std::ceil(*judged->to_go_s / kDay_s), 0) : "-",
         record.size_changes.empty() ? "-" : small_change_words(record.size_changes.back())});
  }
  return "\nConditioning\n" + text_of(table);
}

std::string freedom_words(double degrees_of_freedom) {
  return std::isfinite(degrees_of_freedom) ? rounded_words(degrees_of_freedom, 2, "") : "many";
}

std::string drawn_table(const SeriesResult& result) {
  TextTable table;
  table.is_number = {false, true, true, true, false};
  table.rows.push_back({"bar", "u, first order", "its dof", "u, drawn", "drawn interval"});
  for (const BarResult& bar : result.bars) {
    if (!bar.drawn) continue;
    const DrawnBar& drawn = *bar.drawn;
    const int decimals = decimals_for(drawn.drawn.u);
    table.rows.push_back(
        {bar.specimen.id,
         fixed_words(drawn.first_order_u, decimals),
         freedom_words(drawn.degrees_of_freedom),
         fixed_words(drawn.drawn.u, decimals) + (drawn.differs ? " *" : ""),
         bound_sign(bar.bar.limit) +
             interval_words({drawn.drawn.symmetric.low, drawn.drawn.symmetric.high},
                            decimals)});
  }
  if (table.rows.size() == 1) return {};
  return "\nUncertainty of single bars by first order and by drawing all sources (*: apart by "
         "more than 10 %; > and <: of a limit)\n" +
         text_of(table);
}

}  // namespace

std::string details_of(const SeriesResult& result) {
  std::string text;
  if (result.ranking) {
    const Ranking& ranking = *result.ranking;
    text += pairs_table(ranking) +
            list_of("Effect of condition and orientation", ranking.effect_sentences) +
            censored_table(ranking) + list_of("Rigs tied together", ties_of(ranking)) +
            list_of("Worth improving next", improvements_of(ranking));
  }
  return text + conditioning_table(result) + drawn_table(result);
}

}  // namespace swingloss
