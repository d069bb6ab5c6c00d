// SPDX-License-Identifier: Apache-2.0
#include "cli/say_plan.h"

#include "cli/say_swing.h"
#include "cli/text_table.h"
#include "core/angle.h"
#include "report/words.h"

#include <cmath>

namespace swingloss {
namespace {

std::string share(double fraction) { return rounded_words(100.0 * fraction, 2, "%"); }

std::string count_or_more(const std::optional<int>& bars) {
  return bars ? std::to_string(*bars) : "over 1000";
}

std::string degrees(double angle_rad) {
  return fixed_words(Angle::from_rad(angle_rad).deg(), 1) + "°";
}

std::string bars_table(const PlanAnswer& answer) {
  TextTable table;
  table.is_number.assign(1 + answer.question.powers.size(), true);
  std::vector<std::string> heads = {"difference"};
  for (const double power : answer.question.powers) {
    heads.push_back("found " + percent_words(power));
  }
  table.rows.push_back(heads);
  for (const BarsRow& row : answer.bars) {
    std::vector<std::string> cells = {share(row.difference)};
    for (const std::optional<int>& bars : row.bars) cells.push_back(count_or_more(bars));
    table.rows.push_back(cells);
  }
  return "Bars in each group for a difference of two means\n" + text_of(table);
}

std::string precision_table(const PlanAnswer& answer) {
  TextTable table;
  table.is_number = {true, true, true};
  table.rows.push_back({"bars", "mean known to ±", "difference found"});
  for (const PrecisionRow& row : answer.precision) {
    table.rows.push_back(
        {std::to_string(row.bars), share(row.half_width), share(row.difference_found)});
  }
  return "What a number of bars in each group reaches\n" + text_of(table);
}

std::string reached_table(const PlanAnswer& answer) {
  if (answer.reached.empty()) return {};
  TextTable table;
  table.is_number.assign(4 + answer.half_widths.size(), true);
  table.is_number.front() = false;
  std::vector<std::string> heads = {"group", "bars", "known to ±", "scatter up to"};
  for (const double width : answer.half_widths) heads.push_back("for ±" + share(width));
  table.rows.push_back(heads);
  for (const ReachedRow& row : answer.reached) {
    std::vector<std::string> cells = {answer.source->ranking->groups.at(row.group).name,
                                      std::to_string(row.bars),
                                      row.half_width ? share(*row.half_width) : "-",
                                      row.cautious_cv ? share(*row.cautious_cv) : "-"};
    for (const std::optional<int>& bars : row.bars_for) cells.push_back(count_or_more(bars));
    table.rows.push_back(cells);
  }
  return "\nPrecision already reached in " + answer.source->title +
         ", and the bars in all for a finer mean\n" + text_of(table);
}

std::string hammers_table(const PlanAnswer& answer) {
  if (answer.hammers.empty()) return {};
  TextTable table;
  table.is_number = {false, true, false, true};
  table.rows.push_back({"hammer", "available", "release", "u(W)/W there"});
  std::string words;
  for (const HammerChoice& choice : answer.hammers) {
    const bool suits = choice.release_low_rad && choice.release_high_rad;
    table.rows.push_back(
        {choice.name + (choice.recommended ? " (take this one)" : ""),
         rounded_words(choice.available_J, 3, "J"),
         suits ? degrees(*choice.release_low_rad) + " to " + degrees(*choice.release_high_rad)
               : "none suits",
         suits ? share(choice.relative_u) : "-"});
    words += "  - " + choice.name + ": " + choice.words + "\n";
  }
  return "\nHammers for " + rounded_words(*answer.expected_low_J, 3, "J") + " to " +
         rounded_words(*answer.expected_high_J, 3, "J") + " (" + answer.expected_words + "), " +
         percent_words(answer.window.low) + " to " + percent_words(answer.window.high) +
         " of the energy to be used\n" + text_of(table) + words;
}

bool is_tenth_degree(double release_rad) {
  return std::lround(Angle::from_rad(release_rad).deg()) % 10 == 0;
}

std::string curve_table(const ReleaseCurve& curve) {
  TextTable table;
  table.is_number = {true, true, true, false, true, true, true};
  table.rows.push_back({"release", "available", "used", "in window", "rise", "u(W)", "u(W)/W"});
  for (const ReleaseRow& row : curve.rows) {
    if (!is_tenth_degree(row.release_rad)) continue;
    const bool passes = row.absorbed_J.has_value();
    table.rows.push_back({degrees(row.release_rad),
                          rounded_words(row.available_J, 3, "J"),
                          row.used_fraction > 1.0 ? "all" : share(row.used_fraction),
                          row.in_window ? "yes" : "no",
                          row.rise_rad ? degrees(*row.rise_rad) : "-",
                          passes ? rounded_words(row.absorbed_J->u(), 2, "J") : "-",
                          passes ? share(row.absorbed_J->u() / curve.expected_J) : "-"});
  }
  return "\n" + curve.hammer + ": a bar that takes " + rounded_words(curve.expected_J, 3, "J") +
         "\n" + text_of(table);
}

}  // namespace

std::string account_of(const PlanAnswer& answer) {
  std::string text = "Scatter from bar to bar " + share(answer.question.cv) +
                     " of the mean: " + answer.cv_words + ".\n\n" + bars_table(answer) + "\n" +
                     precision_table(answer) + reached_table(answer) + hammers_table(answer);
  for (const ReleaseCurve& curve : answer.curves) text += curve_table(curve);
  return text + (answer.remarks.empty() ? "" : "\nRemarks\n" + account_of(answer.remarks));
}

}  // namespace swingloss
