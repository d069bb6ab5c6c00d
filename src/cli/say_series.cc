// SPDX-License-Identifier: Apache-2.0
#include "cli/say_series.h"

#include "cli/say_ranking.h"
#include "cli/say_swing.h"
#include "cli/text_table.h"
#include "report/words.h"

#include <algorithm>

namespace swingloss {
namespace {

std::string number_or_dash(const std::optional<double>& x, int decimals) {
  return x ? fixed_words(*x, decimals) : "-";
}

/// "4", "3 + 1 above", "2 + 1 above + 1 below".
std::string count_words(const GroupSummary& group) {
  std::string text = std::to_string(group.n_exact);
  if (group.n_above > 0) text += " + " + std::to_string(group.n_above) + " above";
  if (group.n_below > 0) text += " + " + std::to_string(group.n_below) + " below";
  return text;
}

/// "1", "1 to 3": places that hold with the confidence asked for.
std::string ranks_words(const GroupSummary& group) {
  if (!group.rank_low || !group.rank_high) return "-";
  const std::string low = std::to_string(*group.rank_low);
  return *group.rank_low == *group.rank_high ? low
                                             : low + " to " + std::to_string(*group.rank_high);
}

std::vector<std::string> group_row(const GroupSummary& group, std::size_t rank) {
  const int decimals = decimals_of(group);
  return {std::to_string(rank),
          group.name,
          count_words(group),
          number_or_dash(group.mean, decimals),
          interval_words(group.interval, decimals),
          number_or_dash(group.s, decimals),
          group.letters,
          group.p_best ? percent_words(*group.p_best) : "-",
          ranks_words(group)};
}

std::string ranking_table(const Ranking& ranking, double confidence) {
  TextTable table;
  table.is_number = {true, false, false, true, false, true, false, true, false};
  table.rows.push_back({"",
                        "group",
                        "bars",
                        "mean",
                        percent_words(confidence) + " interval",
                        "s",
                        "letters",
                        "P(best)",
                        "places"});
  std::size_t rank = 0;
  for (const GroupSummary& group : ranking.groups)
    table.rows.push_back(group_row(group, ++rank));
  return title_of(ranking.quantity) + ", " + unit_of(ranking.quantity) + "\n" + text_of(table) +
         "Groups that share a letter are not resolved.\n";
}

std::string bulleted(const std::string& head, const std::vector<std::string>& sentences) {
  std::string text = sentences.empty() ? "" : "\n" + head + "\n";
  for (const std::string& sentence : sentences) text += "  - " + sentence + "\n";
  return text;
}

Remarks remarks_of(const SeriesResult& result) {
  Remarks remarks = result.remarks;
  for (const Rig& rig : result.rigs) {
    for (const Remark& remark : rig.remarks) {
      remarks.push_back({remark.code, remark.severity, "rig " + rig.name + ": " + remark.text});
    }
  }
  if (!result.ranking) return remarks;
  const Remarks& more = result.ranking->remarks;
  remarks.insert(remarks.end(), more.begin(), more.end());
  for (const GroupSummary& group : result.ranking->groups) {
    for (const Remark& remark : group.remarks) {
      remarks.push_back({remark.code, remark.severity, group.name + ": " + remark.text});
    }
  }
  return remarks;
}

}  // namespace

std::string problems_of(const SeriesResult& result) {
  std::string text;
  for (const BarResult& bar : result.bars) {
    if (bar.problem) text += bar.specimen.id + ": " + bar.problem->text + "\n";
  }
  return text;
}

std::string account_of(const SeriesResult& result) {
  std::string text =
      result.title + (result.label.empty() ? "" : " (" + result.label + ")") + "\n\n";
  if (result.ranking) {
    text += ranking_table(*result.ranking, result.ranking_options.confidence) +
            bulleted("Verdict", result.ranking->verdict_sentences) + details_of(result);
  } else {
    text += "No bar could be measured: there is nothing to rank.\n";
  }
  const Remarks remarks = remarks_of(result);
  if (!remarks.empty()) text += "\nRemarks\n" + account_of(remarks);
  std::vector<std::string> problems;
  for (const BarResult& bar : result.bars) {
    if (bar.problem) problems.push_back(bar.specimen.id + ": " + bar.problem->text);
  }
  return text + bulleted("Not measured: " + std::to_string(problems.size()) + " of " +
                             std::to_string(result.bars.size()) + " bars",
                         problems);
}

}  // namespace swingloss
