// SPDX-License-Identifier: Apache-2.0
/// \file run_series.h
/// The whole program: a series folder in, measured bars and their ranking out.
#pragma once

#include "series/reuse.h"
#include "series/series_plan.h"
#include "series/series_result.h"

#include <cstddef>
#include <exception>
#include <functional>
#include <string>
#include <vector>

namespace swingloss {

/// One more bar is done.
struct BarProgress {
  std::size_t done = 0, count = 0;
  std::string id;
  bool measured = false;
};

struct RunOptions {
  int jobs = 0;                         ///< bars at a time; 0 takes the machine's threads
  bool fresh = false;                   ///< measure again even what is stored and unchanged
  std::vector<std::string> fresh_bars;  ///< ids of bars whose clip is to be measured again
  bool stored_only = false;             ///< measure nothing: end where a record is missing
  bool monte_carlo = false;  ///< draw the sources of every bar, not only where it tells
  /// Told after each bar, by one thread at a time; nothing: nobody is told.
  std::function<void(const BarProgress&)> progress;
  /// Asked before each bar, on several threads; nothing: the run goes to its end.
  std::function<bool()> stopped;

  [[nodiscard]] Reuse reuse() const {
    return stored_only ? Reuse::Only : fresh ? Reuse::Nothing : Reuse::Unchanged;
  }
};

/// A run ended early, as RunOptions::stopped asked: bars in work were finished and are stored,
/// so that the next run goes on from there.
class RunStopped : public std::exception {
 public:
  [[nodiscard]] const char* what() const noexcept override { return "the run was stopped"; }
};

/// Measures every bar of a series, and ranks what was measured. One bar's failure is its
/// BarProblem and never stops the others. Finished swings are stored in FOLDER/results/swings
/// and used again by a later run while clip, rig and program are the same; nothing is written
/// anywhere else. They hold what the program measured by itself; corrections by hand
/// (series/corrections.h) are put on top in every run, so that taking one back costs nothing.
/// Weighings in FOLDER/masses.csv, if it is there, are judged. The result does
/// not depend on `jobs`, nor on what was stored.
///
/// \throws InputError  the folder, series.json's clips, specimens.csv or masses.csv cannot be
///                     used, or corrections.json; results/ holds a link to another place
///                     (refuse_links.h); a rig file cannot be used and no bar is left that
///                     does without it; a record is missing and only stored ones are wanted
/// \throws RunStopped  RunOptions::stopped said so; no ranking is made
[[nodiscard]] SeriesResult run_series(const SeriesPlan& plan, const RunOptions& options = {});

/// What one machine measured of a series that several share.
struct PartResult {
  SeriesPart part;
  std::size_t bars_of_series = 0;
  std::vector<BarResult> bars;  ///< of this part, in the order of the table
  Remarks remarks;
};

/// Measures and stores the clips and photographs of one part's bars, and the free swings unless
/// they are stored, since every energy wants them; ranks nothing. Several parts may be at work
/// at once, on one folder or on copies of it: each record appears whole or not at all, and
/// tells by itself what it was measured from. Once all records are in one folder,
/// run_series() with `stored_only` gives what it would have given alone.
/// \throws InputError  as run_series(), but a rig file that cannot be used is always its bars'
[[nodiscard]] PartResult measure_part(const SeriesPlan& plan,
                                      const SeriesPart& part,
                                      const RunOptions& options = {});

/// FOLDER/results: where everything is written.
[[nodiscard]] std::string results_folder(const SeriesPlan& plan);

}  // namespace swingloss
