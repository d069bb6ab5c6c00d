// SPDX-License-Identifier: Apache-2.0
#include "report/draw_charts.h"

#include "report/chart_texts.h"
#include "report/draw_details.h"
#include "report/effect_chart.h"
#include "report/inline_svg.h"
#include "report/ranking_chart.h"
#include "report/swing_chart.h"
#include "report/table_chart.h"
#include "report/words.h"
#include "series/read_specimens.h"

#include <algorithm>

namespace swingloss {
namespace {

constexpr int kSvgWidth_px = 1200;

bool has_track(const BarResult& bar) {
  return bar.swing && !bar.swing->arm.angles.samples.empty();
}

/// Draws one chart into its files and pages.
class Drawer {
 public:
  Drawer(const ReportOptions& options, Shelf& shelf) : options_(options), shelf_(shelf) {}

  /// \param script_for  gives the script for a canvas
  template <typename ScriptFor>
  void files(const std::string& name, int svg_height_px, ScriptFor script_for) const {
    for (const ChartFile& file : chart_files(kSvgWidth_px, svg_height_px, options_.charts)) {
      shelf_.put("charts/" + name + file.ending,
                 draw_chart(script_for(file.canvas), file.canvas, options_.gnuplot));
    }
  }

  [[nodiscard]] std::string page(const std::string& script,
                                 const Canvas& canvas,
                                 const std::string& id,
                                 const std::string& words) const {
    return inline_svg(draw_chart(script, canvas, options_.gnuplot), id, words);
  }

 private:
  const ReportOptions& options_;
  Shelf& shelf_;
};

void draw_ranking(const SeriesResult& series, const Drawer& drawer, PagePictures& pictures) {
  const std::size_t rows = series.ranking->groups.size();
  const std::string words = "Ranking chart: " + title_of(series.ranking->quantity) +
                            " of every bar and group, toughest on top; the numbers are in the "
                            "tables of groups and bars.";
  const Canvas wide = ranking_page_canvas(rows, false);
  const Canvas narrow = ranking_page_canvas(rows, true);
  pictures.ranking_wide =
      drawer.page(ranking_chart_script(series, wide), wide, "ranking-wide", words);
  pictures.ranking_narrow =
      drawer.page(ranking_chart_script(series, narrow), narrow, "ranking-narrow", words);
  drawer.files("ranking", 190 + 70 * static_cast<int>(rows), [&](const Canvas& canvas) {
    return ranking_chart_script(series, canvas);
  });
  drawer.files("table", table_chart_height_px(rows), [&](const Canvas& canvas) {
    return table_chart_script(series, canvas);
  });
}

void draw_effects(const SeriesResult& series, const Drawer& drawer, PagePictures& pictures) {
  if (series.ranking->effects.empty()) return;
  const std::size_t rows = series.ranking->effects.size();
  const Canvas page = effect_page_canvas(rows);
  pictures.effects = drawer.page(effect_chart_script(series, page),
                                 page,
                                 "effects",
                                 "Effects of condition and orientation; the numbers are in the "
                                 "table of effects.");
  drawer.files("effects", 190 + 70 * static_cast<int>(rows), [&](const Canvas& canvas) {
    return effect_chart_script(series, canvas);
  });
}

ChartTexts texts_of(const SeriesResult& series, const BarResult& bar) {
  ChartTexts texts;
  texts.title = bar.specimen.id;
  texts.subtitle = bar.specimen.material +
                   (bar.specimen.condition.empty() ? "" : ", " + bar.specimen.condition);
  if (bar.bar.energy_J) {
    const std::string sign = limit_sign(bar.bar.limit);
    texts.subtitle +=
        ": " + sign + (sign.empty() ? "" : "\u00A0") + with_u_words(*bar.bar.energy_J, "J");
  }
  texts.footnote = footnote_words(
      series,
      "Points: measured, open ones left out of the fit. Line: fitted law. Below: points less "
      "line.");
  return texts;
}

}  // namespace

bool needs_charts(const SeriesResult& series) {
  return series.ranking || std::any_of(series.bars.begin(), series.bars.end(), has_track);
}

std::string stem_of(const SeriesResult& series, std::size_t index) {
  const std::string& id = series.bars[index].specimen.id;
  return is_safe_id(id) ? id : "bar(" + std::to_string(index + 1) + ")";
}

void draw_series_charts(const SeriesResult& series,
                        const ReportOptions& options,
                        Shelf& shelf,
                        PagePictures& pictures) {
  if (!series.ranking) return;
  const Drawer drawer(options, shelf);
  draw_ranking(series, drawer, pictures);
  draw_effects(series, drawer, pictures);
  draw_details(series, options, shelf, pictures);
}

std::string draw_bar_chart(const SeriesResult& series,
                           std::size_t index,
                           const ReportOptions& options,
                           Shelf& shelf) {
  const BarResult& bar = series.bars[index];
  if (!has_track(bar)) return {};
  const ChartTexts texts = texts_of(series, bar);
  const Drawer drawer(options, shelf);
  drawer.files("angle-" + stem_of(series, index), 760, [&](const Canvas& canvas) {
    return swing_chart_script(bar, texts, canvas);
  });
  const Canvas page = swing_page_canvas();
  return drawer.page(swing_chart_script(bar, texts, page),
                     page,
                     "angle-" + std::to_string(index + 1),
                     "Angle of the arm over time for bar " + bar.specimen.id +
                         ", measured and fitted, with the residuals below.");
}

}  // namespace swingloss
