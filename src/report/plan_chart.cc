// SPDX-License-Identifier: Apache-2.0
#include "report/plan_chart.h"

#include "core/angle.h"
#include "core/number_text.h"
#include "core/text_file.h"
#include "report/escape.h"
#include "report/inline_svg.h"
#include "report/run_gnuplot.h"
#include "report/words.h"

#include <algorithm>
#include <cmath>
#include <filesystem>

namespace swingloss {
namespace {

/// One line of a chart with its name at its end, or in the upper right corner. A line without
/// points is a name alone.
struct Line {
  std::string name;
  std::vector<std::vector<double>> points;  ///< x, y
  Swatch colour = kInk;
  bool marked = true;
  bool in_corner = false;
  std::string mark = {};  ///< stands beside its last point, where the name is in the corner
};

/// What the lines are drawn in.
struct Axes {
  ChartTexts texts;
  std::string x_words, y_words;
  double x_low = 0.0, x_high = 1.0, y_low = 0.0, y_high = 1.0;
  bool log_y = false;
};

std::string axes_script(const Canvas& canvas, const Axes& axes) {
  const double em_x = canvas.font_px / canvas.width_px;
  const double em_y = canvas.font_px / canvas.height_px;
  const auto margin = [](const char* side, double at) {
    return std::string("set ") + side + "margin at screen " + fixed_text(at, 5) + "\n";
  };
  const std::string muted = script_colour(kMuted);
  return script_head(canvas) + script_texts(canvas, axes.texts) +
         margin("l", 0.025 + 4.6 * em_x) + margin("r", 1.0 - 9.0 * em_x) +
         margin("t", 1.0 - 4.8 * em_y) + margin("b", 5.6 * em_y) + "set xrange [" +
         number_text(axes.x_low) + ":" + number_text(axes.x_high) + "]\nset yrange [" +
         number_text(axes.y_low) + ":" + number_text(axes.y_high) + "]\n" +
         (axes.log_y ? "set logscale y\nset ytics (2, 3, 5, 10, 20, 50, 100, 200, 500, 1000)\n"
                     : "") +
         "set xtics nomirror scale 0 textcolor " + muted +
         "\nset ytics nomirror scale 0 textcolor " + muted +
         "\nset grid xtics ytics back linewidth 1 linetype 1 linecolor " +
         script_colour(kRule) + "\nset xlabel \"" + axes.x_words + "\" textcolor " + muted +
         "\nset ylabel \"" + axes.y_words + "\" textcolor " + muted + "\n";
}

/// \param more  what else is drawn, behind the lines
std::string chart(const Canvas& canvas,
                  const Axes& axes,
                  const std::vector<Line>& lines,
                  const std::string& more = {}) {
  std::string script = axes_script(canvas, axes) + more;
  std::string plots;
  int number = 0;
  const double step = lines.size() > 8 ? 0.05 : 0.07;
  for (const Line& line : lines) {
    const std::string name = "line" + std::to_string(++number);
    const TextPlace corner{
        "graph 0.97", "graph " + fixed_text(1.0 - step * number, 2), "right"};
    if (line.in_corner) {
      script += script_label(canvas, line.name, corner, {0.8, true, line.colour});
    }
    if (line.points.empty()) continue;
    script += script_data(name, line.points);
    const auto& end = line.points.back();
    const TextPlace at_end{"first " + number_text(end[0]), "first " + number_text(end[1])};
    const std::string beside = line.in_corner ? line.mark : line.name;
    if (!beside.empty()) {
      script += script_label(canvas, " " + beside, at_end, {0.8, true, line.colour});
    }
    plots +=
        std::string(plots.empty() ? "plot" : ",") + " $" + name + " using 1:2 with " +
        (line.marked ? "linespoints pointtype 7 pointsize " + script_point_size(canvas, 1.1)
                     : std::string("lines")) +
        " linewidth 3 linecolor " + script_colour(line.colour) + " notitle";
  }
  return script + (plots.empty() ? "plot NaN notitle" : plots) + "\n";
}

Swatch colour_of(std::size_t i) { return kMaterials.at(i % kMaterials.size()); }

std::string scatter_words(const PlanAnswer& answer) {
  return "Scatter from bar to bar " + rounded_words(100.0 * answer.question.cv, 2, "%") +
         " of the mean: " + answer.cv_words + ".";
}

std::string bars_chart(const PlanAnswer& answer, const Canvas& canvas) {
  Axes axes;
  axes.texts = {"How many bars show a difference", scatter_words(answer), ""};
  axes.texts.footnote = "Two groups alike in scatter, t test at " +
                        percent_words(answer.question.alpha) + " over " +
                        std::to_string(answer.question.comparisons) +
                        (answer.question.comparisons == 1 ? " comparison." : " comparisons.");
  axes.x_words = "difference of the means, %";
  axes.y_words = "bars in each group";
  axes.log_y = true;
  axes.y_low = 1.7;
  axes.y_high = 4.0;
  std::vector<Line> lines;
  for (std::size_t p = 0; p < answer.question.powers.size(); ++p) {
    Line line{"found " + percent_words(answer.question.powers[p]) + " of the time",
              {},
              colour_of(p),
              true,
              true};
    for (auto row = answer.bars.rbegin(); row != answer.bars.rend(); ++row) {
      if (!row->bars[p]) continue;
      line.points.push_back({100.0 * row->difference, static_cast<double>(*row->bars[p])});
      axes.x_high = std::max(axes.x_high, 105.0 * row->difference);
      axes.y_high = std::max(axes.y_high, 1.2 * *row->bars[p]);
    }
    std::reverse(line.points.begin(), line.points.end());
    lines.push_back(line);
  }
  return chart(canvas, axes, lines);
}

std::string precision_chart(const PlanAnswer& answer, const Canvas& canvas) {
  Axes axes;
  axes.texts = {"What a number of bars reaches", scatter_words(answer), ""};
  axes.texts.footnote =
      "Interval of 95 %; difference found " + percent_words(answer.question.powers.front()) +
      " of the time" + (answer.reached.empty() ? "." : "; numbered: the groups broken so far.");
  axes.x_words = "bars in each group";
  axes.y_words = "of the mean, %";
  axes.x_low = 2.5;
  Line half{"half the interval of the mean", {}, colour_of(0), true, true};
  Line found{"difference found", {}, colour_of(1), true, true};
  for (const PrecisionRow& row : answer.precision) {
    if (row.bars < 3) continue;  // two bars are off any scale
    half.points.push_back({static_cast<double>(row.bars), 100.0 * row.half_width});
    found.points.push_back({static_cast<double>(row.bars), 100.0 * row.difference_found});
    axes.x_high = std::max(axes.x_high, row.bars + 0.5);
    axes.y_high = std::max({axes.y_high, 105.0 * row.half_width, 105.0 * row.difference_found});
  }
  std::vector<Line> lines = {half, found};
  int number = 0;
  for (const ReachedRow& row : answer.reached) {
    const std::string name = shortened(answer.source->ranking->groups.at(row.group).name, 36);
    const std::string mark = std::to_string(++number);
    std::string label = mark;
    label.append("  ").append(name);
    if (!row.half_width || row.bars < 3 || 100.0 * *row.half_width > axes.y_high) {
      const std::string width =
          row.half_width ? " ±" + percent_words(*row.half_width) : std::string();
      label.append(width).append(", off the chart");
      lines.push_back({label, {}, kMuted, true, true});
      continue;
    }
    lines.push_back({label,
                     {{static_cast<double>(row.bars), 100.0 * *row.half_width}},
                     kInk,
                     true,
                     true,
                     mark});
    axes.x_high = std::max(axes.x_high, row.bars + 0.5);
  }
  return chart(canvas, axes, lines);
}

std::string window_script(const Canvas& canvas, const HammerChoice& choice) {
  if (!choice.release_low_rad || !choice.release_high_rad) return {};
  const double low = Angle::from_rad(*choice.release_low_rad).deg();
  const double high = Angle::from_rad(*choice.release_high_rad).deg();
  return "set object 1 rectangle from first " + number_text(low) + ", graph 0 to first " +
         number_text(high) + ", graph 1 behind fillcolor " + script_colour(kRule) +
         " fillstyle transparent solid 0.5 noborder\n" +
         script_label(canvas,
                      "in the window",
                      {"first " + number_text(0.5 * (low + high)), "graph 0.96", "center"},
                      kSmall);
}

std::string release_chart(const PlanAnswer& answer,
                          const HammerChoice& choice,
                          const Canvas& canvas) {
  Axes axes;
  axes.texts = {choice.name + ": how well W is known, by release angle",
                choice.words,
                "Shaded: the whole range of energies is " + percent_words(answer.window.low) +
                    " to " + percent_words(answer.window.high) + " of the hammer's energy."};
  axes.x_words = "release angle from hanging rest, degrees";
  axes.y_words = "u(W), % of W";
  axes.y_high = 0.0;
  std::vector<Line> lines;
  for (const ReleaseCurve& curve : answer.curves) {
    if (curve.hammer != choice.name) continue;
    Line line{rounded_words(curve.expected_J, 3, "J"), {}, colour_of(lines.size()), false};
    for (const ReleaseRow& row : curve.rows) {
      axes.x_high = std::max(axes.x_high, Angle::from_rad(row.release_rad).deg());
      if (!row.absorbed_J) continue;
      const double relative = 100.0 * row.absorbed_J->u() / curve.expected_J;
      line.points.push_back({Angle::from_rad(row.release_rad).deg(), relative});
      axes.y_high = std::max(axes.y_high, 1.1 * relative);
    }
    lines.push_back(line);
  }
  if (axes.y_high == 0.0) axes.y_high = 1.0;
  return chart(canvas, axes, lines, window_script(canvas, choice));
}

}  // namespace

std::vector<PlanChart> plan_charts(const PlanAnswer& answer, const Canvas& canvas) {
  std::vector<PlanChart> charts = {{"bars", bars_chart(answer, canvas)},
                                   {"precision", precision_chart(answer, canvas)}};
  int number = 0;
  for (const HammerChoice& choice : answer.hammers) {
    charts.push_back(
        {"release-" + std::to_string(++number), release_chart(answer, choice, canvas)});
  }
  return charts;
}

std::vector<std::string> write_plan_charts(const PlanAnswer& answer,
                                           const std::string& folder,
                                           const std::string& gnuplot) {
  std::vector<std::string> files;
  const auto put = [&](const std::string& name, const std::string& bytes) {
    files.push_back((std::filesystem::path(folder) / ("plan-" + name)).string());
    write_file(files.back(), bytes);
  };
  Canvas svg;
  svg.width_px = 1200;
  svg.height_px = 675;
  const std::vector<PlanChart> vectors = plan_charts(answer, svg);
  const std::vector<PlanChart> pixels = plan_charts(answer, video_canvas());
  for (std::size_t i = 0; i < vectors.size(); ++i) {
    put(vectors[i].name + ".svg", mended_svg(run_gnuplot(vectors[i].script, gnuplot)));
    put(pixels[i].name + ".png", run_gnuplot(pixels[i].script, gnuplot));
  }
  return files;
}

}  // namespace swingloss
