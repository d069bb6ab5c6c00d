// SPDX-License-Identifier: Apache-2.0
#include "report/write_report.h"

#include "core/input_error.h"
#include "core/parallel.h"
#include "report/bar_film.h"
#include "report/chart_texts.h"
#include "report/contact_sheet.h"
#include "report/draw_charts.h"
#include "report/drawn_from.h"
#include "report/page.h"
#include "report/plate.h"
#include "report/results_csv.h"
#include "report/results_json.h"
#include "report/run_gnuplot.h"
#include "report/shelf.h"

#include <mutex>

namespace swingloss {
namespace {

constexpr const char* kAskVersion =
    "set print '-'\nprint GPVAL_VERSION, ' ', GPVAL_PATCHLEVEL\nexit\n";

void draw_strip(const SeriesResult& series,
                std::size_t index,
                const ReportOptions& options,
                Shelf& shelf,
                BarPictures& pictures) {
  const BarResult& bar = series.bars[index];
  if (!bar.swing || !options.strip_of) return;
  try {
    const Plate plate = draw_plate(options.strip_of(bar), {demonstration_stamp(series)});
    if (plate.panels.empty()) return;
    pictures.strip = plate.panels;
    shelf.put("plates/strip-" + stem_of(series, index) + ".png", plate.png);
  } catch (const InputError& error) {
    pictures.strip_fault = std::string("The pictures could not be read again. ") + error.what();
  }
}

void draw_faces(const SeriesResult& series,
                std::size_t index,
                Shelf& shelf,
                BarPictures& pictures) {
  const FacePlate plate = draw_bar_faces(series, index);
  if (plate.png.empty()) return;
  pictures.face_jpeg = plate.jpeg;
  shelf.put("plates/face-" + stem_of(series, index) + ".png", plate.png);
}

/// Everything that the files depend on, as text.
std::string source_of(const ReportOptions& options,
                      const std::string& gnuplot_version,
                      const std::string& numbers) {
  const auto flag = [](bool on) { return on ? "1" : "0"; };
  return options.source_mark + gnuplot_version + flag(options.charts.uhd) +
         flag(options.charts.transparent) + flag(options.charts.dark) + numbers;
}

/// Draws and writes everything.
void draw_all(const SeriesResult& series,
              const ReportOptions& options,
              const std::string& numbers,
              Shelf& shelf,
              ReportFiles& files) {
  PagePictures pictures;
  pictures.bars.resize(series.bars.size());
  draw_series_charts(series, options, shelf, pictures);
  std::mutex told;
  std::size_t drawn = 0;
  for_each_index(series.bars.size(), options.jobs, [&](std::size_t i) {
    pictures.bars[i].angle_chart = draw_bar_chart(series, i, options, shelf);
    draw_strip(series, i, options, shelf, pictures.bars[i]);
    draw_faces(series, i, shelf, pictures.bars[i]);
    film_bar(series, i, options, shelf, pictures.bars[i]);
    const std::lock_guard<std::mutex> one_at_a_time(told);
    if (options.progress)
      options.progress({++drawn, series.bars.size(), series.bars[i].specimen.id, true});
  });
  const FacePlate contact = draw_contact_sheet(series);
  if (!contact.png.empty()) shelf.put("plates/faces-by-energy.png", contact.png);
  pictures.contact_jpeg = contact.jpeg;
  shelf.put("results.csv", results_csv(series));
  shelf.put("results.json", numbers);
  shelf.put("summary.txt", summary_line(series));
  shelf.put("report.html", report_page(series, pictures));
  shelf.remove_stale();
  files.names = shelf.names();
  for (std::size_t i = 0; i < series.bars.size(); ++i) {
    const BarPictures& bar = pictures.bars[i];
    files.whole = files.whole && bar.strip_fault.empty() && bar.film_fault.empty();
    if (!bar.film.empty() || !bar.film_fault.empty())
      files.film_words[series.bars[i].specimen.id] = bar.film_fault;
  }
}

}  // namespace

ReportFiles write_report(const SeriesResult& series,
                         const std::string& results_folder,
                         const ReportOptions& options) {
  // Asked before any file is written.
  const std::string version =
      needs_charts(series) ? run_gnuplot(kAskVersion, options.gnuplot) : std::string();
  Shelf shelf(results_folder);
  ReportFiles files{shelf.path_of("report.html"), {}, {}, true};
  const std::string numbers = results_json(series);
  const DrawnFrom note(shelf, source_of(options, version, numbers));
  const bool noted = !options.source_mark.empty() && !options.overlays && options.films.empty();
  if (noted && !options.redraw) {
    if (auto names = note.unchanged(options.jobs)) {
      files.names = std::move(*names);
      return files;
    }
  }
  note.forget();
  // Films have notes of their own; a report that shows one is drawn anew.
  draw_all(series, options, numbers, shelf, files);
  if (noted && files.whole && files.film_words.empty()) note.note(options.jobs);
  return files;
}

}  // namespace swingloss
