// SPDX-License-Identifier: Apache-2.0
/// \file write_report.h
/// A series' results as files: tables, charts, plates and the page.
#pragma once

#include "report/chart_files.h"
#include "series/run_series.h"
#include "series/series_result.h"
#include "series/strip_frames.h"

#include <functional>
#include <map>
#include <set>
#include <string>
#include <vector>

namespace swingloss {

struct ReportOptions {
  /// Gives the pictures of a bar that has a swing; called once a bar, on several threads at
  /// once. Nothing: the
  /// report is made without plates.
  std::function<std::vector<StripFrame>(const BarResult&)> strip_of;
  /// Stands for all that the report comes from beside its numbers (series_mark()): a report
  /// that was drawn from the same, with the same options and no fault, is left as it lies
  /// there. Empty: it is drawn anew, and no note is left of what it came from.
  std::string source_mark;
  bool redraw = false;          ///< draw though nothing has changed
  ChartExtras charts;           ///< more sizes and grounds of every chart
  bool overlays = false;        ///< also films of the clips with the arm (overlay_film.h)
  std::set<std::string> films;  ///< ids of bars whose film is wanted though `overlays` is not
  bool sound = false;           ///< films that are made keep their sound
  std::string gnuplot = "gnuplot";  ///< program that draws the charts
  /// Told after each bar is drawn, by one thread at a time; nothing: nobody is told.
  std::function<void(const BarProgress&)> progress;
  int jobs = 0;  ///< bars drawn at a time; 0 takes the machine's threads
};

/// What was written, as paths below the results folder, sorted.
struct ReportFiles {
  std::string page;                ///< full path of report.html
  std::vector<std::string> names;  ///< "charts/ranking.svg", "results.csv", ...
  /// Of bars whose film was made or failed: what was said of it; empty where all is well.
  std::map<std::string, std::string> film_words;
  bool whole = true;  ///< all pictures could be had
};

/// Writes into `results_folder`: results.csv, results.json, summary.txt, report.html; charts/
/// with ranking, table, effects and angle-ID for each bar with a track, each as SVG and as PNG
/// of 1920 x 1080 and as ReportOptions::charts asks; plates/strip-ID.png for each bar with
/// pictures; overlays/ID.mp4 where asked for (report/bar_film.h). Each file is written whole or
/// not at all; charts and plates of earlier runs whose bars are gone are removed. Computes
/// nothing: every number is one of `series`. The same series and pictures give the same bytes.
///
/// Where a source mark is given, drawn-from.txt tells the next run what all this came from.
///
/// Pictures that cannot be read (a clip moved away since) leave a remark in the page and stop
/// nothing.
/// \throws InputError  gnuplot is missing (nothing was written then), or the folder cannot be
///                     written
ReportFiles write_report(const SeriesResult& series,
                         const std::string& results_folder,
                         const ReportOptions& options = {});

}  // namespace swingloss
