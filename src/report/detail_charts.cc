// SPDX-License-Identifier: Apache-2.0
#include "report/detail_charts.h"

#include "core/expects.h"
#include "core/number_text.h"
#include "report/chart_texts.h"
#include "report/escape.h"
#include "report/material_colours.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace swingloss {
namespace {

constexpr double kDay_s = 86400.0;

std::string first(double value) { return "first " + number_text(value); }

constexpr const char* kNotAccredited = "Not an accredited test.";

/// Whether the group is drawn in the chart of normal scores.
bool shows_scores(const GroupSummary& group) {
  return group.normal_scores && group.mean && group.s;
}

/// Room around the plot, in widths of the type.
struct Room {
  double left = 5.0, right = 10.0;
};

std::string room_script(const Canvas& canvas, const Room& room) {
  const double em_x = canvas.font_px / canvas.width_px;
  const double em_y = canvas.font_px / canvas.height_px;
  const bool stands_alone = canvas.kind != CanvasKind::SvgInline;
  const auto margin = [](const char* side, double at) {
    return std::string("set ") + side + "margin at screen " + fixed_text(at, 5) + "\n";
  };
  return margin("l", 0.025 + room.left * em_x) + margin("r", 1.0 - room.right * em_x) +
         margin("t", 1.0 - (stands_alone ? 4.8 : 0.8) * em_y) +
         margin("b", (stands_alone ? 5.6 : 4.4) * em_y);
}

std::string axis_script(const std::string& x_words, const std::string& y_words) {
  const std::string muted = script_colour(kMuted);
  return "set xtics nomirror scale 0 textcolor " + muted +
         "\nset ytics nomirror scale 0 textcolor " + muted +
         "\nset grid xtics ytics back linewidth 1 linetype 1 linecolor " +
         script_colour(kRule) + "\nset xlabel " + gnuplot_string(x_words) + " textcolor " +
         muted + "\nset ylabel " + gnuplot_string(y_words) + " textcolor " + muted + "\n";
}

/// In the grid's place, so that nothing runs through the key.
std::string zero_lines() {
  const std::string look = " nohead back linewidth 1 linecolor " + script_colour(kRule) + "\n";
  return "unset grid\nset arrow from graph 0, first 0 to graph 1, first 0" + look +
         "set arrow from first 0, graph 0 to first 0, graph 1" + look;
}

std::string range_script(const char* axis, double low, double high) {
  const double room = high > low ? 0.06 * (high - low) : 1.0;
  return std::string("set ") + axis + "range [" + number_text(low - room) + ":" +
         number_text(high + room) + "]\n";
}

Swatch colour_of(const SeriesResult& series, const std::string& material) {
  const auto colours = material_colours(series);
  const auto known = colours.find(material);
  return known == colours.end() ? kAccent : known->second;
}

/// Point types of the groups of one material, all filled: circle, square, triangle, diamond,
/// triangle upside down.
int point_type(int of_material) {
  constexpr std::array<int, 5> kTypes = {7, 5, 9, 13, 11};
  return kTypes.at(static_cast<std::size_t>(of_material) % kTypes.size());
}

/// A key's line in the upper left, which normal scores leave free: point and name.
std::string key_line(const Canvas& canvas,
                     const std::string& name,
                     int line,
                     const std::string& point) {
  const std::string height = "graph " + fixed_text(1.0 - 0.05 * line, 3);
  return "set label \"\" at graph 0.03, " + height + " front point" + point + "\n" +
         script_label(canvas, shortened(name, 34), {"graph 0.05", height}, kSmall);
}

}  // namespace

bool has_scores(const SeriesResult& series) {
  return series.ranking &&
         std::any_of(
             series.ranking->groups.begin(), series.ranking->groups.end(), shows_scores);
}

std::string scores_chart_script(const SeriesResult& series, const Canvas& canvas) {
  expects(has_scores(series), "a chart of no scores");
  ChartTexts texts;
  texts.title = "Does the scatter look normal?";
  texts.subtitle =
      "Each value’s distance from its group’s mean in s, against a normal value’s of "
      "its place.";
  texts.footnote = footnote_words(
      series, "Ringed: flagged by Grubbs’ test; counted all the same. Not an accredited test.");
  std::string data;
  std::string plots =
      "plot x with lines linewidth 2 linecolor " + script_colour(kRule) + " notitle";
  std::string rings;
  double reach = 1.5;
  int number = 0;
  std::map<std::string, int> of_material;
  std::string key;
  for (const GroupSummary& group : series.ranking->groups) {
    if (!shows_scores(group)) continue;
    std::vector<std::vector<double>> rows;
    for (const NormalScore& point : group.normal_scores->points) {
      const double distance = (point.value - *group.mean) / *group.s;
      rows.push_back({point.score, distance});
      reach = std::max({reach, std::abs(point.score), std::abs(distance)});
      const bool ringed =
          group.grubbs && group.grubbs->flagged && group.grubbs->farthest == point.index;
      if (ringed) rings += number_text(point.score) + " " + number_text(distance) + "\n";
    }
    const std::string name = "scores" + std::to_string(++number);
    data += script_data(name, rows);
    const std::string look = " pointtype " +
                             std::to_string(point_type(of_material[group.material]++)) +
                             " pointsize " + script_point_size(canvas, 1.0) + " linecolor " +
                             script_colour(colour_of(series, group.material));
    plots += ", $";
    plots.append(name).append(" using 1:2 with points").append(look).append(" notitle");
    key += key_line(canvas, group.name, number, look);
  }
  if (!rings.empty()) {
    data += "$rings << END\n" + rings + "END\n";
    plots += ", $rings using 1:2 with points pointtype 6 pointsize " +
             script_point_size(canvas, 2.2) + " linewidth 2 linecolor " +
             script_colour(kAlarm) + " notitle";
  }
  return script_head(canvas) + script_texts(canvas, texts) + room_script(canvas, {5.0, 2.0}) +
         axis_script("score of a normal value of that place", "(value − mean) / s") +
         zero_lines() + range_script("x", -reach, reach) + range_script("y", -reach, reach) +
         data + key + plots + "\n";
}

bool has_weighings(const SeriesResult& series) {
  return std::any_of(series.conditioning.begin(),
                     series.conditioning.end(),
                     [](const ConditioningRecord& r) { return r.judged.has_value(); });
}

std::string conditioning_chart_script(const SeriesResult& series, const Canvas& canvas) {
  expects(has_weighings(series), "a chart of no weighing");
  ChartTexts texts;
  texts.title = "Had the bars come to rest with their surroundings?";
  texts.subtitle =
      "Uptake by weight over days; line: the better of plate diffusion and "
      "exponential approach.";
  texts.footnote = footnote_words(series, kNotAccredited);
  std::string data;
  std::string plots;
  double last_day = 1.0;
  double low = 0.0;
  double high = 0.1;
  std::size_t number = 0;
  for (const ConditioningRecord& record : series.conditioning) {
    if (!record.judged) continue;
    const Conditioning& judged = *record.judged;
    const double reference =
        record.masses.dry_mass.value_or(record.masses.masses.front().value);
    const Swatch colour = kMaterials.at(number % kMaterials.size());
    const std::string name = std::to_string(++number);
    std::vector<std::vector<double>> points;
    for (std::size_t i = 0; i < judged.uptake.size(); ++i) {
      points.push_back({record.masses.masses[i].t_s / kDay_s, 100.0 * judged.uptake[i]});
      last_day = std::max(last_day, points.back()[0]);
      low = std::min(low, points.back()[1]);
      high = std::max(high, points.back()[1]);
    }
    data += script_data("mass" + name, points) +
            script_label(canvas,
                         " " + shortened(record.name, 18),
                         {first(points.back()[0]), first(points.back()[1])},
                         {0.8, true, colour});
    plots += std::string(plots.empty() ? "plot" : ",") + " $mass" + name +
             " using 1:2 with points pointtype 7 pointsize " + script_point_size(canvas, 1.1) +
             " linecolor " + script_colour(colour) + " notitle";
    if (!judged.better) continue;
    const ApproachFit& fit =
        *judged.better == ApproachLaw::Plate ? *judged.plate : *judged.exponential;
    std::vector<std::vector<double>> line;
    for (int i = 0; i <= 100; ++i) {
      const double t_s = judged.last_reading_s * i / 100.0;
      line.push_back({t_s / kDay_s, 100.0 * (fit.value_at(t_s) / reference - 1.0)});
    }
    data += script_data("law" + name, line);
    plots += ", $law" + name + " using 1:2 with lines linewidth 2 linecolor " +
             script_colour(colour) + " notitle";
  }
  return script_head(canvas) + script_texts(canvas, texts) + room_script(canvas, {5.0, 9.0}) +
         axis_script("days from the first weighing", "uptake, % of the mass") +
         range_script("x", 0.0, last_day) + range_script("y", low, high) + data + plots + "\n";
}

}  // namespace swingloss
