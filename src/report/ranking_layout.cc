// SPDX-License-Identifier: Apache-2.0
#include "report/ranking_layout.h"

#include "core/number_text.h"
#include "report/escape.h"
#include "report/words.h"

#include <algorithm>
#include <limits>

namespace swingloss {
namespace {

std::string screen(double at) { return "screen " + fixed_text(at, 5); }

std::string first(double value) { return "first " + number_text(value); }

std::string second_line(const GroupSummary& group) {
  std::string line = group.condition;
  if (!group.orientation.empty()) line += (line.empty() ? "" : ", ") + group.orientation;
  return line;
}

/// Above the row's points: the names at the left, mean and letters at the right.
std::string narrow_row_texts(const GroupSummary& group, double y, const RankingLayout& layout) {
  const std::string condition =
      second_line(group).empty() ? std::string() : "  " + second_line(group);
  const std::string letters = group.letters.empty() ? std::string() : "  " + group.letters;
  const std::string height = first(y + 0.33);
  return script_label(layout.canvas,
                      shortened(group.material + condition, 32),
                      {screen(layout.left), height, "left"},
                      kStrong) +
         script_label(layout.canvas,
                      mean_or_bound_words(group) + letters,
                      {screen(layout.right), height, "right"},
                      kStrong);
}

}  // namespace

std::pair<double, double> values_shown(const SeriesResult& series) {
  const Ranking& ranking = *series.ranking;
  double smallest = 0.0;
  double largest = 0.0;
  const auto include =
      [&](const std::optional<double>& value, double at_least, double at_most) {
        if (!value) return;
        smallest = std::min(smallest, std::max(*value, at_least));
        largest = std::max(largest, std::min(*value, at_most));
      };
  constexpr double kAny = std::numeric_limits<double>::infinity();
  for (const BarResult& bar : series.bars) {
    const auto& value = quantity_of(bar.bar, ranking.quantity);
    if (value) include(value->value(), -kAny, kAny);
  }
  for (const GroupSummary& group : ranking.groups) include(group.mean, -kAny, kAny);
  const double least = 1.5 * smallest;
  const double most = largest > 0.0 ? 1.5 * largest : kAny;
  for (const GroupSummary& group : ranking.groups) {
    include(group.interval.low, least, most);
    include(group.interval.high, least, most);
  }
  return {smallest, largest > 0.0 ? largest : 1.0};
}

RankingLayout lay_out_ranking(const SeriesResult& series, const Canvas& whole) {
  const Canvas canvas = with_room_for(whole, series.ranking->groups.size(), 2.3, 11.2);
  RankingLayout layout;
  layout.canvas = canvas;
  const double em_x = canvas.font_px / canvas.width_px;
  const double em_y = canvas.font_px / canvas.height_px;
  const bool stands_alone = canvas.kind != CanvasKind::SvgInline;
  layout.left = canvas.narrow ? 0.03 : edge_of(canvas) + 12.5 * em_x;
  layout.right = 1.0 - (canvas.narrow ? 0.03 : edge_of(canvas) + 8.5 * em_x);
  layout.top = 1.0 - (stands_alone ? 5.6 : 1.8) * em_y;
  layout.bottom = (stands_alone ? 5.6 : 4.6) * em_y;
  layout.means_x = screen(1.0 - edge_of(canvas) - 4.2 * em_x);
  layout.heads_y = screen(layout.top + 0.7 * em_y);
  const auto [smallest, largest] = values_shown(series);
  layout.x_min = 1.12 * smallest;
  layout.x_max = 1.12 * largest;
  layout.lines = (layout.top - layout.bottom) / em_y;
  layout.rows = static_cast<double>(series.ranking->groups.size());
  // Few groups do not spread over the whole picture.
  layout.rows = std::max(layout.rows, layout.lines / 6.5);
  if (canvas.narrow) {
    layout.band = 0.20;
    layout.shift = 0.14;
  }
  return layout;
}

std::string ranking_axes(const SeriesResult& series, const RankingLayout& layout) {
  const auto rows = static_cast<double>(series.ranking->groups.size());
  const Quantity quantity = series.ranking->quantity;
  const auto margin = [](const char* side, double at) {
    return std::string("set ") + side + "margin at screen " + fixed_text(at, 5) + "\n";
  };
  std::string script = margin("l", layout.left) + margin("r", layout.right) +
                       margin("t", layout.top) + margin("b", layout.bottom);
  script +=
      "set xrange [" + number_text(layout.x_min) + ":" + number_text(layout.x_max) + "]\n";
  const double spare = 0.5 * (layout.rows - rows);
  script += "set yrange [" + number_text(0.5 + spare - layout.rows) + ":" +
            number_text(0.5 + spare) + "]\nunset ytics\n";
  script += "set xtics nomirror scale 0 textcolor " + script_colour(kMuted) + "\n";
  script +=
      "set grid xtics back linewidth 1 linetype 1 linecolor " + script_colour(kRule) + "\n";
  script += "set xlabel " + gnuplot_string(title_of(quantity) + ", " + unit_of(quantity)) +
            " textcolor " + script_colour(kMuted) + "\n";
  for (int row = 1; row < rows; ++row) {
    script += "set arrow from screen " + fixed_text(0.0, 1) + ", " + first(0.5 - row) +
              " to screen 1, " + first(0.5 - row) + " nohead back linewidth 1 linecolor " +
              script_colour(kRule) + "\n";
  }
  return script;
}

std::string ranking_row_texts(const GroupSummary& group,
                              double y,
                              const RankingLayout& layout) {
  if (layout.canvas.narrow) return narrow_row_texts(group, y, layout);
  const Canvas& canvas = layout.canvas;
  const std::string below = second_line(group);
  const double line = layout.rows / layout.lines;
  const std::string left = screen(edge_of(canvas));
  std::string script =
      script_label(canvas,
                   shortened(group.material, 19),
                   {left, first(y + (below.empty() ? 0.0 : 0.52 * line)), "left"},
                   kStrong);
  script += script_label(
      canvas, shortened(below, 24), {left, first(y - 0.62 * line), "left"}, kSmall);
  script += script_label(
      canvas, mean_or_bound_words(group), {layout.means_x, first(y), "right"}, kStrong);
  script += script_label(
      canvas, group.letters, {screen(1.0 - edge_of(canvas)), first(y), "right"}, kSmall);
  return script;
}

std::string ranking_column_heads(const RankingLayout& layout) {
  if (layout.canvas.narrow) return {};
  return script_label(
             layout.canvas, "mean", {layout.means_x, layout.heads_y, "right"}, kSmall) +
         script_label(layout.canvas,
                      "letters",
                      {screen(1.0 - edge_of(layout.canvas)), layout.heads_y, "right"},
                      kSmall);
}

}  // namespace swingloss
