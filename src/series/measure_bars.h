// SPDX-License-Identifier: Apache-2.0
/// \file measure_bars.h
/// The bars of a run, each by itself.
#pragma once

#include "series/corrections.h"
#include "series/rig_shelf.h"
#include "series/run_series.h"

#include <vector>

namespace swingloss {

/// What all bars of a run have in common.
struct BarsRun {
  const SeriesPlan& plan;
  const RunOptions& options;
  const RigShelf& rigs;
  const std::vector<Correction>& corrections;
  SeriesPart part;
};

/// One result a row. Whatever goes wrong with one bar stays with it. Bars of other parts hold
/// their row and nothing else.
/// \throws UnwritableError  a record cannot be stored; the bars that were not begun are left
/// \throws RunStopped  as run_series()
[[nodiscard]] std::vector<BarResult> measure_bars(const BarsRun& run,
                                                  const std::vector<SpecimenRow>& rows);

}  // namespace swingloss
