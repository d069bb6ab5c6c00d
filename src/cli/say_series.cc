// SPDX-License-Identifier: Apache-2.0
#include "cli/say_series.h"

#include "cli/say_ranking.h"
#include "cli/say_swing.h"
#include "cli/text_table.h"
#include "core/shell_word.h"
#include "report/words.h"

#include <algorithm>

namespace swingloss {
namespace {

/// "4", "3 + 1 above", "2 + 1 above + 1 below".
std::string count_words(const GroupSummary& group) {
  std::string text = std::to_string(group.n_exact);
  if (group.n_above > 0) text += " + " + std::to_string(group.n_above) + " above";
  if (group.n_below > 0) text += " + " + std::to_string(group.n_below) + " below";
  return text;
}

std::vector<std::string> group_row(const GroupSummary& group) {
  return {places_words(group),
          group.name,
          count_words(group),
          mean_or_bound_words(group),
          interval_words(group.interval, decimals_of(group)),
          group.s ? fixed_words(*group.s, decimals_for(*group.s)) : "–",
          group.letters,
          group.p_best ? percent_words(*group.p_best) : "–"};
}

std::string ranking_table(const Ranking& ranking, double confidence) {
  TextTable table;
  table.is_number = {true, false, false, true, false, true, false, true};
  table.rows.push_back({"place",
                        "group",
                        "bars",
                        "mean",
                        percent_words(confidence) + " interval",
                        "s",
                        "letters",
                        "P(best)"});
  for (const GroupSummary& group : ranking.groups) table.rows.push_back(group_row(group));
  return title_of(ranking.quantity) + ", " + unit_of(ranking.quantity) + "\n" + text_of(table) +
         "Groups that share a letter are not clearly apart.\n";
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
  append(remarks, result.ranking->remarks);
  for (const GroupSummary& group : result.ranking->groups) {
    for (const Remark& remark : group.remarks) {
      remarks.push_back({remark.code, remark.severity, group.name + ": " + remark.text});
    }
  }
  return remarks;
}

/// "K1: why", one for each bar that could not be measured.
std::vector<std::string> problem_lines(const std::vector<BarResult>& bars) {
  std::vector<std::string> lines;
  for (const BarResult& bar : bars) {
    if (bar.problem) lines.push_back(bar.specimen.id + ": " + bar.problem->text);
  }
  return lines;
}

std::string not_measured(const std::vector<BarResult>& bars) {
  const std::vector<std::string> lines = problem_lines(bars);
  return bulleted("Not measured: " + std::to_string(lines.size()) + " of " +
                      std::to_string(bars.size()) + " bars",
                  lines);
}

}  // namespace

std::string problems_of(const std::vector<BarResult>& bars) {
  std::string text;
  for (const std::string& line : problem_lines(bars)) text += line + "\n";
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
  return text + not_measured(result.bars);
}

std::string account_of(const PartResult& result, const std::string& folder) {
  std::string text = "Part " + std::to_string(result.part.number) + " of " +
                     std::to_string(result.part.of) + ": " +
                     std::to_string(result.bars.size()) + " of " +
                     std::to_string(result.bars_of_series) + " bars are this part's.\n";
  if (!result.remarks.empty()) text += "\nRemarks\n" + account_of(result.remarks);
  return text + not_measured(result.bars) +
         "\nWhen all parts are measured: swingloss collect " + shell_word(folder) + "\n";
}

}  // namespace swingloss
