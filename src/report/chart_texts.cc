// SPDX-License-Identifier: Apache-2.0
#include "report/chart_texts.h"

#include "core/joined.h"
#include "report/escape.h"
#include "report/words.h"

#include <algorithm>

namespace swingloss {
namespace {

std::string group_words(const GroupSummary& group) {
  const bool placed = group.rank_low && group.rank_high;
  std::string words = placed ? places_words(group) + ": " : std::string();
  words += group.name + ", " + mean_or_bound_words(group);
  if (group.mean && (group.interval.low || group.interval.high))
    words += " (" + interval_words(group.interval, decimals_of(group)) + ")";
  if (!group.letters.empty()) words += " [" + group.letters + "]";
  return words;
}

std::string ranking_words(const Ranking& ranking, double confidence) {
  std::string words = title_of(ranking.quantity) + " in " + unit_of(ranking.quantity) +
                      ", by place; mean and its " + percent_words(confidence) + " interval: ";
  for (std::size_t i = 0; i < ranking.groups.size(); ++i) {
    words += (i == 0 ? "" : "; ") + group_words(ranking.groups[i]);
  }
  return words + ". Groups that share a letter are not clearly apart.";
}

}  // namespace

std::string invention_words(const SeriesResult& series) {
  return series.label.empty() ? "invented or rendered data" : series.label;
}

std::string footnote_words(const SeriesResult& series, const std::string& words) {
  if (!series.rendered_or_invented) return words;
  return "DEMONSTRATION: " + invention_words(series) + ". " + words;
}

std::string rare_mark_words(const SeriesResult& series) {
  const auto any = [&](const auto& is_one) {
    return std::any_of(series.bars.begin(), series.bars.end(), [&](const BarResult& result) {
      return is_one(result.bar);
    });
  };
  const bool limits = any(
      [](const Bar& bar) { return bar.limit != Limit::None && bar.energy_J && !bar.left_out; });
  const bool left_out = any([](const Bar& bar) { return bar.left_out && bar.energy_J; });
  return joined({limits ? "Open, with arrow: beyond what could be measured." : "",
                 left_out ? "Cross: left out." : ""},
                " ");
}

std::string demonstration_stamp(const SeriesResult& series) {
  return series.rendered_or_invented ? "DEMONSTRATION: rendered or invented" : "";
}

std::string summary_line(const SeriesResult& series) {
  std::string line = series.title + ". ";
  line += series.ranking ? ranking_words(*series.ranking, series.ranking_options.confidence)
                         : "No bar could be measured.";
  const auto failed =
      std::count_if(series.bars.begin(), series.bars.end(), [](const BarResult& bar) {
        return bar.problem.has_value();
      });
  if (failed > 0 && series.ranking) {
    line += " " + std::to_string(failed) + " of " + std::to_string(series.bars.size()) +
            " bars could not be measured.";
  }
  line += " Not an accredited test.";
  if (series.rendered_or_invented) line += " Demonstration: " + invention_words(series) + ".";
  return clean_text(line) + "\n";
}

}  // namespace swingloss
