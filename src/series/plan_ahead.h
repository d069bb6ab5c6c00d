// SPDX-License-Identifier: Apache-2.0
/// \file plan_ahead.h
/// Before the next bars are made: how many of them, and which hammer from how high.
#pragma once

#include "core/remark.h"
#include "ranking/plan_bars.h"
#include "ranking/plan_hammer.h"
#include "ranking/plan_reached.h"
#include "series/series_result.h"
#include "series/table_input.h"

#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// What is asked. Everything has an answer by default; a table or a series makes it sharper.
struct PlanRequest {
  /// Table of typed values, results.csv, or a series folder (its results/results.csv, else its
  /// specimens.csv); empty: none.
  std::string source;
  /// Scatter from bar to bar over the mean. Nothing: the cautious scatter of the source's
  /// groups, taken together; without a source 10 %, a usual figure for broken bars.
  std::optional<double> cv;
  BarsQuestion question;                              ///< its `cv` is not read
  std::vector<double> half_widths{0.10, 0.05, 0.02};  ///< wanted for each mean, relative
  int most_bars = 12;                                 ///< of the table of precision
  TableOptions table;

  std::vector<std::string> rigs;  ///< rig.json of every hammer in question
  /// Of the bars to come [J]. Nothing: smallest and largest energy of the source.
  std::optional<double> expected_low_J, expected_high_J;
  /// Highest release where the rig file has no latch angle [rad].
  std::optional<double> release_most_rad;
  double u_angle_rad = 0.1 * 3.14159265358979323846 / 180.0;  ///< of release and rise, each
  double u_zero_rad = 0.05 * 3.14159265358979323846 / 180.0;  ///< of hanging rest
  EnergyWindow window;
};

/// u(W) of one hammer over its release angle, for one expected energy.
struct ReleaseCurve {
  std::string hammer;
  double expected_J = 0.0;
  std::vector<ReleaseRow> rows;  ///< every degree, rising
};

/// The answer, as far as it was asked for.
struct PlanAnswer {
  BarsQuestion question;  ///< as used
  std::string cv_words;   ///< where the scatter comes from
  std::vector<BarsRow> bars;
  std::vector<PrecisionRow> precision;
  std::optional<SeriesResult> source;  ///< read and ranked
  std::vector<double> half_widths;
  std::vector<ReachedRow> reached;  ///< one a group of the source's ranking with a scatter

  std::optional<double> expected_low_J, expected_high_J;
  std::string expected_words;  ///< where the range comes from
  std::vector<HammerChoice> hammers;
  std::vector<ReleaseCurve> curves;  ///< each hammer at the lower and the upper energy
  EnergyWindow window;
  Remarks remarks;
};

/// Answers. Deterministic; reads the files named and writes none.
/// \throws InputError  a file that cannot be read, an option out of range
[[nodiscard]] PlanAnswer plan_ahead(const PlanRequest& request);

/// A rig as planning takes it: friction as lost from the highest release to eight tenths of it.
/// Neither the latch nor `release_most_rad` may lift it above the capacity that the file
/// states: then the release that gives the capacity is the highest. \param release_most_rad
/// where the rig has no latch angle
[[nodiscard]] Hammer hammer_of(const Rig& rig,
                               double release_most_rad,
                               const PlanRequest& request);

}  // namespace swingloss
