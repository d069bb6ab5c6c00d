// SPDX-License-Identifier: Apache-2.0
#include "report/effect_chart.h"

#include "core/expects.h"
#include "core/number_text.h"
#include "report/chart_texts.h"
#include "report/escape.h"
#include "report/material_colours.h"
#include "report/words.h"

#include <algorithm>

namespace swingloss {
namespace {

std::string first(double value) { return "first " + number_text(value); }

std::string screen(double at) { return "screen " + fixed_text(at, 5); }

/// Ends of the axis in per cent; zero is always on it.
struct Range {
  double low = 0.0, high = 0.0;
};

Range range_of(const std::vector<FactorEffect>& effects) {
  Range range;
  for (const FactorEffect& effect : effects) {
    for (const auto& value :
         {effect.change, effect.change_interval.low, effect.change_interval.high}) {
      if (!value) continue;
      range.low = std::min(range.low, 100.0 * *value);
      range.high = std::max(range.high, 100.0 * *value);
    }
  }
  const double width = std::max(range.high - range.low, 10.0);
  return {range.low - 0.08 * width, range.high + 0.08 * width};
}

/// The plot's edges in screens, and how many rows there is room for: few effects do not
/// spread over the whole picture.
struct EffectFrame {
  Canvas canvas;
  Range range;
  double left = 0.0, right = 1.0, top = 1.0, bottom = 0.0;
  double rows = 1.0;
  double line = 0.2;  ///< height of a line of type, in rows
};

EffectFrame frame_of(const Canvas& whole, const std::vector<FactorEffect>& effects) {
  const Canvas canvas = with_room_for(whole, effects.size(), 2.3, 10.2);
  const double em_x = canvas.font_px / canvas.width_px;
  const double em_y = canvas.font_px / canvas.height_px;
  const bool stands_alone = canvas.kind != CanvasKind::SvgInline;
  EffectFrame frame;
  frame.canvas = canvas;
  frame.range = range_of(effects);
  frame.left = edge_of(canvas) + 13.0 * em_x;
  frame.right = 1.0 - edge_of(canvas) - 5.4 * em_x;
  frame.top = 1.0 - (stands_alone ? 4.6 : 0.6) * em_y;
  frame.bottom = (stands_alone ? 5.6 : 4.6) * em_y;
  const double lines = (frame.top - frame.bottom) / em_y;
  frame.rows = std::max(static_cast<double>(effects.size()), lines / 6.0);
  frame.line = frame.rows / lines;
  return frame;
}

std::string axes(const EffectFrame& frame, std::size_t effects) {
  const double spare = 0.5 * (frame.rows - static_cast<double>(effects));
  const auto margin = [](const char* side, double at) {
    return std::string("set ") + side + "margin at screen " + fixed_text(at, 5) + "\n";
  };
  return margin("l", frame.left) + margin("r", frame.right) + margin("t", frame.top) +
         margin("b", frame.bottom) + "set xrange [" + number_text(frame.range.low) + ":" +
         number_text(frame.range.high) + "]\nset yrange [" +
         number_text(0.5 + spare - frame.rows) + ":" + number_text(0.5 + spare) +
         "]\nunset ytics\nset xtics nomirror scale 0 textcolor " + script_colour(kMuted) +
         "\nset grid xtics back linewidth 1 linetype 1 linecolor " + script_colour(kRule) +
         "\nset xlabel \"change of the mean, %\" textcolor " + script_colour(kMuted) +
         "\nset arrow from 0, graph 0 to 0, graph 1 nohead back linewidth 2 linecolor " +
         script_colour(kMuted) + "\n";
}

std::string row_of(const FactorEffect& effect,
                   double y,
                   const EffectFrame& frame,
                   const Swatch& colour) {
  const Canvas& canvas = frame.canvas;
  const double line = frame.line;
  const std::string left = screen(edge_of(canvas));
  std::string script = script_label(canvas,
                                    shortened(effect.setting, 20),
                                    {left, first(y + 0.55 * line), "left"},
                                    kStrong) +
                       script_label(canvas,
                                    shortened(effect.level + " against " + effect.base, 30),
                                    {left, first(y - 0.60 * line), "left"},
                                    kSmall);
  const std::string change = effect.change ? change_percent_words(*effect.change) : "–";
  script +=
      script_label(canvas, change, {screen(1.0 - edge_of(canvas)), first(y), "right"}, kStrong);
  const Interval& interval = effect.change_interval;
  if (!interval.low && !interval.high) return script;
  const double low = interval.low ? 100.0 * *interval.low : frame.range.low;
  const double high = interval.high ? 100.0 * *interval.high : frame.range.high;
  const char* head = interval.low && interval.high ? "nohead"
                     : interval.low                ? "head"
                                                   : "backhead";
  script += "set arrow from " + first(low) + ", " + first(y) + " to " + first(high) + ", " +
            first(y) + " " + head + " back linewidth 4 linecolor " + script_colour(colour) +
            "\n";
  return script;
}

ChartTexts texts_of(const SeriesResult& series) {
  ChartTexts texts;
  texts.title = series.title;
  texts.subtitle =
      "Effect of condition and orientation. Point: change of the mean. Line: its " +
      percent_words(series.ranking_options.confidence) + " interval.";
  texts.footnote = footnote_words(series, "Not an accredited test.");
  return texts;
}

}  // namespace

Canvas effect_page_canvas(std::size_t effects) {
  return {CanvasKind::SvgInline, 700, 20 + 60 * static_cast<int>(effects) + 80, 16.0, false};
}

std::string effect_chart_script(const SeriesResult& series, const Canvas& canvas) {
  expects(series.ranking && !series.ranking->effects.empty(), "effect chart without effects");
  const std::vector<FactorEffect>& effects = series.ranking->effects;
  const auto colours = material_colours(series);
  const EffectFrame frame = frame_of(canvas, effects);
  std::string script = script_head(frame.canvas) +
                       script_texts(frame.canvas, texts_of(series)) +
                       axes(frame, effects.size());
  std::string plots = "plot NaN linecolor " + script_colour(kInk) + " notitle";
  double y = 0.0;
  for (std::size_t row = 0; row < effects.size(); ++row, y -= 1.0) {
    const auto known = colours.find(series.ranking->groups.at(effects[row].group).material);
    const Swatch colour = known == colours.end() ? kAccent : known->second;
    script += row_of(effects[row], y, frame, colour);
    if (!effects[row].change) continue;
    const std::string name = "effect" + std::to_string(row);
    script += script_data(name, {{100.0 * *effects[row].change, y}});
    plots += ", $" + name + " using 1:2 with points pointtype 7 pointsize " +
             script_point_size(frame.canvas, 1.5) + " linecolor " + script_colour(colour) +
             " notitle";
  }
  return script + plots + "\n";
}

}  // namespace swingloss
