// SPDX-License-Identifier: Apache-2.0
#include "report/ranking_chart.h"

#include "core/expects.h"
#include "core/joined.h"
#include "core/number_text.h"
#include "report/chart_texts.h"
#include "report/material_colours.h"
#include "report/ranking_layout.h"
#include "report/spread.h"
#include "report/words.h"

#include <algorithm>
#include <map>

namespace swingloss {
namespace {

std::string first(double value) { return "first " + number_text(value); }

/// How far the tip reaches in which a band that goes on ends.
double tip_reach(const RankingLayout& layout) { return 0.03 * (layout.x_max - layout.x_min); }

/// The tip of a band at an end of the axis: the interval goes on.
std::string run_off(double end, double y, const RankingLayout& layout, const Swatch& colour) {
  const double foot = end == layout.x_max ? end - tip_reach(layout) : end + tip_reach(layout);
  const double middle = y - layout.shift;
  const std::string low = first(foot) + ", " + first(middle - layout.band);
  return "set object polygon from " + low + " to " + first(end) + ", " + first(middle) +
         " to " + first(foot) + ", " + first(middle + layout.band) + " to " + low +
         " back fillcolor " + script_colour(colour) +
         " fillstyle transparent solid 0.45 noborder\n";
}

/// Band of the interval and stroke of the mean.
std::string mean_and_interval(const GroupSummary& group,
                              double y,
                              const RankingLayout& layout,
                              const Swatch& colour) {
  std::string script;
  const double low_y = y - layout.shift - layout.band;
  const double high_y = y - layout.shift + layout.band;
  const Interval& interval = group.interval;
  if (interval.low || interval.high) {
    double from = std::max(interval.low.value_or(layout.x_min), layout.x_min);
    double to = std::min(interval.high.value_or(layout.x_max), layout.x_max);
    if (from == layout.x_min && interval.low != from) {
      script += run_off(from, y, layout, colour);
      from += tip_reach(layout);
    }
    if (to == layout.x_max && interval.high != to) {
      script += run_off(to, y, layout, colour);
      to -= tip_reach(layout);
    }
    script += "set object rectangle from " + first(from) + ", " + first(low_y) + " to " +
              first(to) + ", " + first(high_y) + " back fillcolor " + script_colour(colour) +
              " fillstyle transparent solid 0.16 noborder\n";
  }
  if (group.mean) {
    script += "set arrow from " + first(*group.mean) + ", " + first(low_y) + " to " +
              first(*group.mean) + ", " + first(high_y) +
              " nohead front linewidth 3 linecolor " + script_colour(colour) + "\n";
  }
  return script;
}

/// How wide a point is, in the axis's unit.
double point_width(const RankingLayout& layout) {
  const double plot_px = (layout.right - layout.left) * layout.canvas.width_px;
  return 0.75 * layout.canvas.font_px * (layout.x_max - layout.x_min) / plot_px;
}

/// Points of one row by the way they are drawn.
struct RowPoints {
  std::vector<std::vector<double>> exact, above, below, left_out;
};

RowPoints points_of(const SeriesResult& series,
                    const GroupSummary& group,
                    double y,
                    const RankingLayout& layout) {
  RowPoints points;
  Spread spread(point_width(layout), layout.band);
  const double reach = 0.045 * (layout.x_max - layout.x_min);
  for (const std::size_t index : group.bars) {
    const Bar& bar = series.bars.at(index).bar;
    const auto& value = quantity_of(bar, series.ranking->quantity);
    if (!value) continue;
    const double x = value->value();
    const Limit limit = bar.left_out ? Limit::None : bar.limit;
    const double height = y - layout.shift +
                          spread.place(limit == Limit::Below ? x - reach : x,
                                       limit == Limit::Above ? x + reach : x);
    std::vector<double> point = {x, height};
    if (bar.left_out) {
      points.left_out.push_back(point);
    } else if (bar.limit == Limit::None) {
      points.exact.push_back(point);
    } else {
      const double side = bar.limit == Limit::Above ? 1.0 : -1.0;
      point.push_back(x + side * 0.16 * reach);  // from the rim of the open point
      point.push_back(side * 0.84 * reach);
      (bar.limit == Limit::Above ? points.above : points.below).push_back(point);
    }
  }
  return points;
}

/// The plot commands for the data blocks of all rows.
class PlotList {
 public:
  void add(const std::string& command) { commands_.push_back(command); }
  [[nodiscard]] std::string text() const {
    std::string script = "plot NaN linecolor " + script_colour(kInk) + " notitle";
    for (const std::string& command : commands_) script += ", \\\n  " + command;
    return script + "\n";
  }

 private:
  std::vector<std::string> commands_;
};

std::string draw_points(const RowPoints& points,
                        const std::string& row,
                        const Swatch& colour,
                        PlotList& plots,
                        const Canvas& canvas) {
  const std::string size = " pointsize " + script_point_size(canvas, 1.0);
  const std::string paint = " linewidth 2 linecolor " + script_colour(colour) + " notitle";
  std::string data;
  const auto draw =
      [&](const char* kind, const auto& rows, const std::vector<std::string>& styles) {
        if (rows.empty()) return;
        const std::string name = kind + row;
        data += script_data(name, rows);
        for (const std::string& style : styles)
          plots.add(("$" + name).append(style).append(paint));
      };
  const std::string arrow = " using 3:2:4:(0) with vectors head size screen 0.008,24 nofilled";
  const std::string open = " using 1:2 with points pointtype 6" + size;
  draw("exact", points.exact, {" using 1:2 with points pointtype 7" + size});
  draw("out", points.left_out, {" using 1:2 with points pointtype 2" + size});
  draw("above", points.above, {arrow, open});
  draw("below", points.below, {arrow, open});
  return data;
}

bool is_cut_off(const Interval& interval, const RankingLayout& layout) {
  if (!interval.low && !interval.high) return false;
  return interval.low.value_or(layout.x_min - 1.0) < layout.x_min ||
         interval.high.value_or(layout.x_max + 1.0) > layout.x_max;
}

ChartTexts texts_of(const SeriesResult& series, const RankingLayout& layout) {
  const auto& groups = series.ranking->groups;
  const bool cut_off = std::any_of(groups.begin(), groups.end(), [&](const auto& group) {
    return is_cut_off(group.interval, layout);
  });
  ChartTexts texts;
  texts.title = series.title;
  texts.subtitle = "Toughest on top. Stroke: mean. Band: its " +
                   percent_words(series.ranking_options.confidence) +
                   " interval. Groups that share a letter are not clearly apart.";
  texts.footnote = footnote_words(series,
                                  joined({"Not an accredited test.",
                                          rare_mark_words(series),
                                          cut_off ? "Tip of a band: it goes on." : ""},
                                         " "));
  return texts;
}

}  // namespace

Canvas ranking_page_canvas(std::size_t groups, bool narrow) {
  const auto rows = static_cast<int>(groups);
  if (narrow) return {CanvasKind::SvgInline, 390, 26 + 74 * rows + 72, 15.0, true};
  return {CanvasKind::SvgInline, 1040, 28 + 66 * rows + 80, 17.0, false};
}

std::string ranking_chart_script(const SeriesResult& series, const Canvas& canvas) {
  expects(series.ranking && !series.ranking->groups.empty(), "ranking chart without a ranking");
  const RankingLayout layout = lay_out_ranking(series, canvas);
  const std::map<std::string, Swatch> colours = material_colours(series);
  const Canvas& fitted = layout.canvas;
  std::string script = script_head(fitted) + script_texts(fitted, texts_of(series, layout)) +
                       ranking_axes(series, layout) + ranking_column_heads(layout);
  PlotList plots;
  double y = 0.0;
  for (std::size_t row = 0; row < series.ranking->groups.size(); ++row, y -= 1.0) {
    const GroupSummary& group = series.ranking->groups[row];
    const auto known = colours.find(group.material);
    const Swatch colour = known == colours.end() ? kAccent : known->second;
    script += ranking_row_texts(group, y, layout) + mean_and_interval(group, y, layout, colour);
    script += draw_points(
        points_of(series, group, y, layout), std::to_string(row), colour, plots, fitted);
  }
  return script + plots.text();
}

}  // namespace swingloss
