// SPDX-License-Identifier: Apache-2.0
/// \file table_input.h
/// A table of typed values, of any instrument, through the statistics alone.
#pragma once

#include "series/series_result.h"

#include <string>

namespace swingloss {

/// How a table is ranked.
struct TableOptions {
  double section_u_mm = 0.02;  ///< standard uncertainty of thickness and of width
  RankingOptions ranking;
  std::string masses;        ///< table of weighings (series/read_masses.h); empty: none
  bool monte_carlo = false;  ///< draw the sources of every bar, not only where it tells
  int jobs = 0;              ///< bars drawn at a time; 0 takes the machine's threads
};

/// Reads a table of bars with typed energies (columns of specimens.csv; clips are not looked
/// at), or the results.csv of an earlier run, and ranks it. A faulty row is that bar's problem.
/// \throws InputError  as read_specimens(), and for options out of range; most bars have a clip
///                     and no energy: the table belongs to a filmed series
[[nodiscard]] SeriesResult rank_table(const std::string& path,
                                      const TableOptions& options = {});

}  // namespace swingloss
