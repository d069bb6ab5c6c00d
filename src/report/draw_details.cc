// SPDX-License-Identifier: Apache-2.0
#include "report/draw_details.h"

#include "report/budget_chart.h"
#include "report/chart_files.h"
#include "report/column_charts.h"
#include "report/detail_charts.h"
#include "report/inline_svg.h"

namespace swingloss {
namespace {

using Script = std::string (*)(const SeriesResult&, const Canvas&);

/// One chart: its name, its script, and how it is shown.
struct Detail {
  const char* name;
  Script script;
  int svg_height_px;
  Canvas page;
  const char* words;
};

std::string draw(const SeriesResult& series,
                 const Detail& detail,
                 const ReportOptions& options,
                 Shelf& shelf) {
  for (const ChartFile& file : chart_files(1200, detail.svg_height_px, options.charts)) {
    shelf.put(std::string("charts/") + detail.name + file.ending,
              draw_chart(detail.script(series, file.canvas), file.canvas, options.gnuplot));
  }
  return inline_svg(
      draw_chart(detail.script(series, detail.page), detail.page, options.gnuplot),
      detail.name,
      detail.words);
}

Canvas page_canvas(int height_px) {
  Canvas canvas;
  canvas.kind = CanvasKind::SvgInline;
  canvas.width_px = 900;
  canvas.height_px = height_px;
  canvas.font_px = 16.0;
  return canvas;
}

/// Every bar's value, beside the others of its group and by itself.
void draw_columns(const SeriesResult& series,
                  const ReportOptions& options,
                  Shelf& shelf,
                  PagePictures& pictures) {
  pictures.strips = draw(series,
                         {"strips",
                          strips_chart_script,
                          800,
                          page_canvas(460),
                          "Strips: every bar by material and condition; the numbers are in the "
                          "table of groups."},
                         options,
                         shelf);
  if (!has_energies(series)) return;
  pictures.energies = draw(series,
                           {"energies",
                            energies_chart_script,
                            800,
                            page_canvas(460),
                            "Energy of every bar; the numbers stand below, bar by bar."},
                           options,
                           shelf);
}

}  // namespace

void draw_details(const SeriesResult& series,
                  const ReportOptions& options,
                  Shelf& shelf,
                  PagePictures& pictures) {
  draw_columns(series, options, shelf, pictures);
  if (has_budgets(series)) {
    const int rows = static_cast<int>(series.ranking->groups.size());
    const int lines = budget_legend_lines(series);
    pictures.budget =
        draw(series,
             {"budget",
              budget_chart_script,
              200 + 27 * lines + 76 * rows,
              page_canvas(90 + 24 * lines + 60 * rows),
              "Where the doubt of each mean comes from; the numbers stand below."},
             options,
             shelf);
  }
  if (has_scores(series)) {
    pictures.scores = draw(series,
                           {"normal-scores",
                            scores_chart_script,
                            900,
                            page_canvas(560),
                            "Normal scores of all groups; straight where scatter is normal."},
                           options,
                           shelf);
  }
  if (has_weighings(series)) {
    pictures.conditioning = draw(series,
                                 {"conditioning",
                                  conditioning_chart_script,
                                  675,
                                  page_canvas(480),
                                  "Uptake over days; the numbers are in the table."},
                                 options,
                                 shelf);
  }
}

}  // namespace swingloss
