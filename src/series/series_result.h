// SPDX-License-Identifier: Apache-2.0
/// \file series_result.h
/// Everything a series gave; the report draws it and computes nothing.
#pragma once

#include "metrology/monte_carlo.h"
#include "ranking/conditioning.h"
#include "ranking/ranking.h"
#include "rig/rig.h"
#include "series/bar_problem.h"
#include "series/corrections.h"
#include "series/specimen.h"
#include "series/surface_json.h"
#include "series/swing_record.h"

#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// A bar's value with all its sources drawn, beside first order.
struct DrawnBar {
  MonteCarloResult drawn;           ///< of the ranked quantity
  double first_order_u = 0.0;       ///< of the same
  double degrees_of_freedom = 0.0;  ///< of first_order_u, Welch-Satterthwaite; may be infinite
  double gap_in_u = 0.0;            ///< first_order_gap(): ends of the two intervals
  bool differs = false;             ///< the two u differ by more than 10 %
};

/// One row of specimens.csv with all that came of it.
struct BarResult {
  Specimen specimen;
  std::optional<SwingRecord>
      swing;  ///< absent: no clip, or one that could not be read; present with a problem: what
              ///< it did show, track perhaps empty
  std::optional<SurfaceRecord> surface;  ///< from its photographs, where it names any
  std::optional<BarProblem> problem;     ///< present: this bar could not be measured
  Bar bar;                               ///< what went into the ranking
  Remarks remarks;                       ///< of the bar; the swing's own are in `swing`
  std::optional<DrawnBar> drawn;  ///< where asked for, or where first order is not enough
  std::vector<AppliedCorrection> corrections;  ///< by hand; `swing` and `bar` have them in
};

/// Weighings of one bar or witness piece, judged.
struct ConditioningRecord {
  std::string name;
  std::vector<std::size_t> bars;       ///< it speaks for these; indices into the result's bars
  MassRecord masses;                   ///< [g]; may hold none
  std::optional<Conditioning> judged;  ///< where there are masses
  SizeRecord sizes;                    ///< may hold none
  std::vector<double> size_changes;    ///< relative to the drawing, one a size
};

struct SeriesResult {
  std::string title;
  std::string folder;                 ///< as given
  std::string geometry_words;         ///< "made like ISO 179-1 ..." as series.json has it
  std::string label;                  ///< "invented materials, rendered footage"; empty: real
  bool rendered_or_invented = false;  ///< demo data: every page says so
  double section_u_mm = 0.0;       ///< standard uncertainty taken for either size of a section
  RankingOptions ranking_options;  ///< as used
  std::vector<Rig> rigs;
  std::vector<SwingRecord>
      free_swings;                 ///< measured first, for the friction of the default rig
  std::vector<BarResult> bars;     ///< in the order of specimens.csv
  std::optional<Ranking> ranking;  ///< absent when no bar is usable; indices as in `bars`
  std::vector<ConditioningRecord> conditioning;  ///< from masses.csv, where there is one
  /// By hand and of no single bar: the grouping, and those that name a bar that is not there.
  std::vector<AppliedCorrection> corrections;
  std::size_t corrections_undone = 0;  ///< made once and taken back
  Remarks remarks;
};

/// No bar has a problem.
[[nodiscard]] bool all_measured(const std::vector<BarResult>& bars);

/// Ranks the bars of a result; nothing when none has an energy.
[[nodiscard]] std::optional<Ranking> rank_results(const std::vector<BarResult>& bars,
                                                  const RankingOptions& options);

}  // namespace swingloss
