// SPDX-License-Identifier: Apache-2.0
#include "report/write_report.h"

#include "core/input_error.h"
#include "core/text_file.h"
#include "report/effect_chart.h"
#include "report/inline_svg.h"
#include "report/page.h"
#include "report/plate.h"
#include "report/ranking_chart.h"
#include "report/results_csv.h"
#include "report/results_json.h"
#include "report/run_gnuplot.h"
#include "report/swing_chart.h"
#include "report/words.h"
#include "series/parallel.h"
#include "series/read_specimens.h"

#include <algorithm>
#include <filesystem>
#include <mutex>
#include <set>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

/// The folder that is being filled, by several threads at once.
class Shelf {
 public:
  explicit Shelf(std::string folder) : folder_(std::move(folder)) {}
  void put(const std::string& name, const std::string& bytes) {
    write_file((fs::path(folder_) / name).string(), bytes);
    const std::lock_guard<std::mutex> one_at_a_time(mutex_);
    names_.insert(name);
  }
  /// Takes away charts and plates of an earlier run that this one did not write again.
  void remove_stale() const {
    for (const char* part : {"charts", "plates"}) {
      std::error_code fault;
      for (const auto& entry : fs::directory_iterator(fs::path(folder_) / part, fault)) {
        const std::string file = entry.path().filename().string();
        const bool ours = file.rfind("angle-", 0) == 0 || file.rfind("strip-", 0) == 0 ||
                          file.rfind("ranking.", 0) == 0 || file.rfind("effects.", 0) == 0;
        if (ours && names_.count(std::string(part) + "/" + file) == 0)
          fs::remove(entry.path(), fault);
      }
    }
  }
  [[nodiscard]] ReportFiles files() const {
    return {(fs::path(folder_) / "report.html").string(), {names_.begin(), names_.end()}};
  }

 private:
  std::string folder_;
  std::mutex mutex_;
  std::set<std::string> names_;
};

/// What a bar's files are called: its id where that is a safe file name, else its place, in a
/// form that no safe id has.
std::string stem_of(const SeriesResult& series, std::size_t index) {
  const std::string& id = series.bars[index].specimen.id;
  return is_safe_id(id) ? id : "bar(" + std::to_string(index + 1) + ")";
}

bool has_track(const BarResult& bar) {
  return bar.swing && !bar.swing->arm.angles.samples.empty();
}

bool needs_charts(const SeriesResult& series) {
  return series.ranking || std::any_of(series.bars.begin(), series.bars.end(), has_track);
}

Canvas file_canvas(int width_px, int height_px) {
  return {CanvasKind::SvgFile, width_px, height_px, 18.0, false};
}

void draw_ranking(const SeriesResult& series,
                  const ReportOptions& options,
                  Shelf& shelf,
                  PagePictures& pictures) {
  const auto draw = [&](const Canvas& canvas) {
    return run_gnuplot(ranking_chart_script(series, canvas), options.gnuplot);
  };
  const std::size_t rows = series.ranking->groups.size();
  const std::string words = "Ranking chart: " + title_of(series.ranking->quantity) +
                            " of every bar and group, toughest on top; the numbers are in the "
                            "tables of groups and bars.";
  pictures.ranking_wide =
      inline_svg(draw(ranking_page_canvas(rows, false)), "ranking-wide", words);
  pictures.ranking_narrow =
      inline_svg(draw(ranking_page_canvas(rows, true)), "ranking-narrow", words);
  shelf.put("charts/ranking.svg",
            mended_svg(draw(file_canvas(1200, 190 + 70 * static_cast<int>(rows)))));
  shelf.put("charts/ranking.png", draw(video_canvas()));
}

void draw_effects(const SeriesResult& series,
                  const ReportOptions& options,
                  Shelf& shelf,
                  PagePictures& pictures) {
  if (series.ranking->effects.empty()) return;
  const auto draw = [&](const Canvas& canvas) {
    return run_gnuplot(effect_chart_script(series, canvas), options.gnuplot);
  };
  const std::size_t rows = series.ranking->effects.size();
  pictures.effects = inline_svg(draw(effect_page_canvas(rows)),
                                "effects",
                                "Effects of condition and orientation; the numbers are in the "
                                "table of effects.");
  shelf.put("charts/effects.svg",
            mended_svg(draw(file_canvas(1200, 190 + 70 * static_cast<int>(rows)))));
  shelf.put("charts/effects.png", draw(video_canvas()));
}

ChartTexts texts_of(const SeriesResult& series, const BarResult& bar) {
  ChartTexts texts;
  texts.title = bar.specimen.id;
  texts.subtitle = bar.specimen.material +
                   (bar.specimen.condition.empty() ? "" : ", " + bar.specimen.condition) +
                   (bar.bar.energy_J ? ": " + limit_sign(bar.bar.limit) +
                                           with_u_words(*bar.bar.energy_J, "J")
                                     : "");
  texts.footnote =
      "Points: measured angles, open ones left out of the fit. Line: fitted law of the "
      "pendulum. Below: measured minus fitted. Not an accredited test.";
  if (series.rendered_or_invented)
    texts.footnote = "DEMONSTRATION, invented data. " + texts.footnote;
  return texts;
}

std::string draw_angles(const SeriesResult& series,
                        std::size_t index,
                        const ReportOptions& options,
                        Shelf& shelf) {
  const BarResult& bar = series.bars[index];
  if (!has_track(bar)) return {};
  const ChartTexts texts = texts_of(series, bar);
  const auto draw = [&](const Canvas& canvas) {
    return run_gnuplot(swing_chart_script(bar, texts, canvas), options.gnuplot);
  };
  const std::string name = "charts/angle-" + stem_of(series, index);
  shelf.put(name + ".svg", mended_svg(draw(file_canvas(1200, 760))));
  shelf.put(name + ".png", draw(video_canvas()));
  return inline_svg(draw(swing_page_canvas()),
                    "angle-" + std::to_string(index + 1),
                    "Angle of the arm over time for bar " + bar.specimen.id +
                        ", measured and fitted, with the residuals below.");
}

void draw_strip(const SeriesResult& series,
                std::size_t index,
                const ReportOptions& options,
                Shelf& shelf,
                BarPictures& pictures) {
  const BarResult& bar = series.bars[index];
  if (!bar.swing || !options.strip_of) return;
  try {
    const Plate plate =
        draw_plate(options.strip_of(bar), {series.rendered_or_invented ? "DEMONSTRATION" : ""});
    if (plate.panels.empty()) return;
    pictures.strip = plate.panels;
    shelf.put("plates/strip-" + stem_of(series, index) + ".png", plate.png);
  } catch (const InputError& error) {
    pictures.strip_fault = std::string("The pictures could not be read again. ") + error.what();
  }
}

}  // namespace

ReportFiles write_report(const SeriesResult& series,
                         const std::string& results_folder,
                         const ReportOptions& options) {
  if (needs_charts(series)) (void)run_gnuplot("exit\n", options.gnuplot);  // before any file
  Shelf shelf(results_folder);
  PagePictures pictures;
  pictures.bars.resize(series.bars.size());
  if (series.ranking) {
    draw_ranking(series, options, shelf, pictures);
    draw_effects(series, options, shelf, pictures);
  }
  for_each_index(series.bars.size(), options.jobs, [&](std::size_t i) {
    pictures.bars[i].angle_chart = draw_angles(series, i, options, shelf);
    draw_strip(series, i, options, shelf, pictures.bars[i]);
  });
  shelf.put("results.csv", results_csv(series));
  shelf.put("results.json", results_json(series));
  shelf.put("report.html", report_page(series, pictures));
  shelf.remove_stale();
  return shelf.files();
}

}  // namespace swingloss
