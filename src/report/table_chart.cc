// SPDX-License-Identifier: Apache-2.0
#include "report/table_chart.h"

#include "core/expects.h"
#include "core/number_text.h"
#include "report/chart_texts.h"
#include "report/escape.h"
#include "report/material_colours.h"
#include "report/words.h"

#include <algorithm>
#include <utility>

namespace swingloss {
namespace {

/// Heights in lines of type: a row, everything above the first row, everything below the last.
constexpr double kRow = 2.1;
constexpr double kHead = 6.6;
constexpr double kFoot = 2.4;

std::string screen(double at) { return "screen " + fixed_text(at, 5); }

/// The columns, in screens: where their texts stand, and on which side of that.
struct Column {
  double x;
  const char* align;
  const char* head;
};
constexpr Column kPlace{0.062, "right", "place"};
constexpr Column kGroup{0.100, "left", "group"};
constexpr Column kMean{0.530, "right", "mean"};
constexpr Column kInterval{0.705, "right", "interval"};
constexpr Column kBars{0.835, "right", "bars"};
constexpr Column kLetters{0.852, "left", "letters"};
constexpr Column kBest{0.975, "right", "P(best)"};
constexpr double kDot = 0.082;

std::string cell(const Canvas& canvas,
                 const Column& column,
                 double y,
                 const std::string& text,
                 const TextStyle& style) {
  return script_label(canvas, text, {screen(column.x), screen(y), column.align}, style);
}

std::string heads(const Canvas& canvas, double y, double confidence) {
  std::string script;
  for (const Column& column : {kPlace, kGroup, kMean, kBars, kLetters, kBest})
    script += cell(canvas, column, y, column.head, kSmall);
  return script +
         cell(canvas, kInterval, y, percent_words(confidence) + " " + kInterval.head, kSmall);
}

std::string dot(const Canvas& canvas, double y, const Swatch& colour) {
  return "set label \"\" at " + screen(kDot) + ", " + screen(y) +
         " point pointtype 7 pointsize " + script_point_size(canvas, 1.3) + " linecolor " +
         script_colour(colour) + "\n";
}

std::string line(double y, const Swatch& colour, double width) {
  return "set arrow from screen 0.025, " + screen(y) + " to screen 0.975, " + screen(y) +
         " nohead linewidth " + number_text(width) + " linecolor " + script_colour(colour) +
         "\n";
}

std::string bars_words(const GroupSummary& group) {
  std::string words = std::to_string(group.n_exact);
  if (group.n_above > 0) words += " + " + std::to_string(group.n_above) + " above";
  if (group.n_below > 0) words += " + " + std::to_string(group.n_below) + " below";
  return words;
}

std::string row(const Canvas& canvas, const GroupSummary& group, double y) {
  const int decimals = decimals_of(group);
  const TextStyle plain{1.0, false, kInk};
  return cell(canvas, kGroup, y, shortened(group.name, 32), kStrong) +
         cell(canvas, kMean, y, mean_or_bound_words(group), kStrong) +
         cell(canvas, kInterval, y, interval_words(group.interval, decimals), plain) +
         cell(canvas, kBars, y, bars_words(group), plain) +
         cell(canvas, kLetters, y, group.letters, plain) +
         cell(canvas, kBest, y, group.p_best ? percent_words(*group.p_best) : "–", plain);
}

ChartTexts texts_of(const SeriesResult& series) {
  const Quantity quantity = series.ranking->quantity;
  return {
      series.title,
      title_of(quantity) + " in " + unit_of(quantity) +
          ", toughest on top. Interval of the mean, from the scatter between bars.",
      footnote_words(
          series, "Groups that share a letter are not clearly apart. Not an accredited test.")};
}

}  // namespace

int table_chart_height_px(std::size_t groups) {
  return static_cast<int>(18.0 * (kHead + kRow * static_cast<double>(groups) + kFoot));
}

std::string table_chart_script(const SeriesResult& series, const Canvas& canvas) {
  expects(series.ranking && !series.ranking->groups.empty(), "a table without a ranking");
  const std::vector<GroupSummary>& groups = series.ranking->groups;
  const Canvas fitted = with_room_for(canvas, groups.size(), kRow, kHead + kFoot);
  const double em_y = fitted.font_px / canvas.height_px;
  const double step = std::min(
      (1.0 - (kHead + kFoot) * em_y) / static_cast<double>(groups.size()), 2.2 * kRow * em_y);
  const auto colours = material_colours(series);
  const double top = 1.0 - kHead * em_y;
  std::string script = script_head(fitted) + script_texts(fitted, texts_of(series)) +
                       heads(fitted, top + 0.7 * em_y, series.ranking_options.confidence) +
                       line(top, kInk, 1.5);
  for (std::size_t i = 0; i < groups.size(); ++i) {
    const double y = top - step * (static_cast<double>(i) + 0.5);
    const auto known = colours.find(groups[i].material);
    script += cell(fitted, kPlace, y, places_words(groups[i]), kSmall) +
              dot(fitted, y, known == colours.end() ? kAccent : known->second) +
              row(fitted, groups[i], y) + line(y - 0.5 * step, kRule, 1.0);
  }
  return script +
         "set margins 0, 0, 0, 0\nunset tics\nset xrange [0:1]\nset yrange [0:1]\nplot NaN "
         "notitle\n";
}

}  // namespace swingloss
