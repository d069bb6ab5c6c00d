// SPDX-License-Identifier: Apache-2.0
#include "report/swing_chart.h"

#include "core/angle.h"
#include "core/expects.h"
#include "core/number_text.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

constexpr double kDegPerRad = 180.0 / kPi;

using Rows = std::vector<std::vector<double>>;

/// Everything that is drawn, in degrees and seconds.
struct SwingRows {
  Rows used, unused, curve, residual;
  double from_s = 0.0, to_s = 1.0;
};

Rows curve_rows(const SwingCurve& curve) {
  Rows rows;
  for (std::size_t i = 0; i < curve.t_s.size(); ++i) {
    rows.push_back({curve.t_s[i], kDegPerRad * curve.theta_rad[i]});
  }
  return rows;
}

SwingRows rows_of(const SwingRecord& swing) {
  const SwingCurve& curve = swing.measurement.curve;
  const std::vector<AngleSample>& samples = swing.arm.angles.samples;
  SwingRows rows;
  rows.curve = curve_rows(curve);
  std::vector<bool> is_used(samples.size(), false);
  for (std::size_t k = 0; k < curve.used_samples.size(); ++k) {
    const std::size_t i = curve.used_samples[k];
    is_used.at(i) = true;
    rows.residual.push_back(
        {samples[i].t_s, kDegPerRad * curve.residual_rad.at(k), kDegPerRad * samples[i].u_rad});
  }
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const double angle_deg = kDegPerRad * angle_from_rest_rad(swing, i);
    (is_used[i] ? rows.used : rows.unused).push_back({samples[i].t_s, angle_deg});
  }
  if (!samples.empty()) {
    rows.from_s = samples.front().t_s;
    rows.to_s = std::max(samples.back().t_s, rows.from_s + 1e-3);
  }
  return rows;
}

double largest_residual_deg(const SwingRows& rows) {
  double largest = 0.0;
  for (const auto& row : rows.residual) largest = std::max(largest, std::abs(row[1]) + row[2]);
  return largest > 0.0 ? largest : 0.01;
}

/// A round step that puts two to three marks on each side of zero.
double round_step(double largest) {
  const double unit = std::pow(10.0, std::floor(std::log10(largest)));
  const double size = largest / unit;
  if (size < 2.0) return unit;
  return size < 5.0 ? 2.0 * unit : 5.0 * unit;
}

std::string margins(double left, double right, double top, double bottom) {
  const auto one = [](const char* side, double at) {
    return std::string("set ") + side + "margin at screen " + fixed_text(at, 5) + "\n";
  };
  return one("l", left) + one("r", right) + one("t", top) + one("b", bottom);
}

std::string axis_text(const char* command, const std::string& text) {
  return std::string("set ") + command + " \"" + text + "\" textcolor " +
         script_colour(kMuted) + "\n";
}

std::string event_lines(const Canvas& canvas, const SwingEvents& events) {
  std::string script;
  const auto line = [&](const std::optional<double>& t_s,
                        const char* word,
                        const Swatch& colour) {
    if (!t_s) return;
    const std::string x = "first " + number_text(*t_s);
    script += "set arrow from " + x + ", graph 0 to " + x +
              ", graph 1 nohead back linewidth 1.5 dashtype (6,5) linecolor " +
              script_colour(colour) + "\n";
    script += script_label(canvas, word, {x, "graph 1.06", "center"}, {0.85, false, colour});
  };
  line(events.release_s, "release", kMuted);
  line(events.blow_s, "blow", kWarm);
  line(events.turn_s, "turn", kMuted);
  return script;
}

/// One list of plot commands; an empty block is left out, as gnuplot refuses it.
std::string plot_of(const std::vector<std::pair<const Rows*, std::string>>& parts) {
  std::string script = "plot NaN linecolor " + script_colour(kInk) + " notitle";
  for (const auto& [rows, command] : parts) {
    if (!rows->empty()) script += ", \\\n  " + command + " notitle";
  }
  return script + "\n";
}

std::string upper_panel(const SwingRows& rows,
                        const SwingEvents& events,
                        const Canvas& canvas) {
  const std::string size = script_point_size(canvas, 0.34);
  std::string script = event_lines(canvas, events);
  script += "set format x \"\"\nset ytics 45 scale 0 textcolor " + script_colour(kMuted) + "\n";
  script += axis_text("ylabel", "angle from rest, \\302\\260");
  script += plot_of(
      {{&rows.curve,
        "$curve using 1:2 with lines linewidth 2.5 linecolor " + script_colour(kAccent)},
       {&rows.unused,
        "$unused using 1:2 with points pointtype 6 pointsize " + size +
            " linewidth 1 linecolor " + script_colour(kMuted)},
       {&rows.used,
        "$used using 1:2 with points pointtype 7 pointsize " + size + " linecolor " +
            script_colour(kInk)}});
  return script;
}

std::string lower_panel(const SwingRows& rows, const Canvas& canvas) {
  const double largest = largest_residual_deg(rows);
  const std::string size = script_point_size(canvas, 0.3);
  std::string script = "unset label\nunset arrow\nset format x \"%g\"\n";
  script +=
      "set yrange [" + number_text(-1.1 * largest) + ":" + number_text(1.1 * largest) + "]\n";
  script += "set ytics " + number_text(round_step(largest)) + "\n";
  script +=
      axis_text("ylabel", "residual, \\302\\260") + axis_text("xlabel", "time in the clip, s");
  script += plot_of(
      {{&rows.residual, "0 with lines linewidth 2 linecolor " + script_colour(kAccent)},
       {&rows.residual,
        "$residual using 1:($2-$3):(0):(2*$3) with vectors nohead linewidth 1 linecolor " +
            script_colour(kMuted)},
       {&rows.residual,
        "$residual using 1:2 with points pointtype 7 pointsize " + size + " linecolor " +
            script_colour(kInk)}});
  return script;
}

}  // namespace

Canvas swing_page_canvas() { return {CanvasKind::SvgInline, 640, 430, 15.0, false}; }

std::string swing_chart_script(const BarResult& bar,
                               const ChartTexts& texts,
                               const Canvas& canvas) {
  expects(bar.swing.has_value(), "swing chart of a bar without a swing");
  const SwingRows rows = rows_of(*bar.swing);
  const double em_x = canvas.font_px / canvas.width_px;
  const double em_y = canvas.font_px / canvas.height_px;
  const double top = 1.0 - (canvas.kind == CanvasKind::SvgInline ? 1.9 : 6.6) * em_y;
  const double bottom = (canvas.kind == CanvasKind::SvgInline ? 4.4 : 5.6) * em_y;
  const double split = bottom + 0.28 * (top - bottom);
  std::string script = script_head(canvas) + script_data("used", rows.used) +
                       script_data("unused", rows.unused) + script_data("curve", rows.curve) +
                       script_data("residual", rows.residual);
  script += "set multiplot\nset xrange [" + number_text(rows.from_s) + ":" +
            number_text(rows.to_s) + "]\n";
  script += "set grid xtics ytics back linewidth 1 linetype 1 linecolor " +
            script_colour(kRule) + "\n";
  script += "set xtics nomirror scale 0 textcolor " + script_colour(kMuted) + "\n";
  const double left = 6.4 * em_x;
  const double right = 1.0 - 1.2 * em_x;
  script += margins(left, right, top, split + 1.3 * em_y) + script_texts(canvas, texts);
  script += upper_panel(rows, bar.swing->measurement.events, canvas);
  script += margins(left, right, split, bottom) + lower_panel(rows, canvas);
  return script + "unset multiplot\n";
}

}  // namespace swingloss
