// SPDX-License-Identifier: Apache-2.0
/// \file rig_shelf.h
/// The instruments of a series, each read once, with the friction and view of its free swings.
#pragma once

#include "core/input_error.h"
#include "rig/rig.h"
#include "series/measure_clip.h"
#include "series/read_specimens.h"
#include "series/reuse.h"
#include "series/series_plan.h"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// One rig file of the series.
struct ShelvedRig {
  std::optional<Rig> rig;           ///< absent: its file cannot be used
  std::optional<InputError> fault;  ///< why
  std::string mark;                 ///< contents of the file and of its free swings, for reuse
  std::string suffix;  ///< sets its sources apart where the series has several rigs
  std::vector<SwingRecord> free_swings;
  std::vector<KnownView> views;  ///< of these, for bars filmed from the same place
  Remarks remarks;
  std::vector<std::string> not_stored;  ///< free swings without a record, Reuse::Only
};

/// By file name as typed in specimens.csv or series.json.
using RigShelf = std::map<std::string, ShelvedRig>;

/// The rig file of a bar: its own, or the series' default.
[[nodiscard]] std::string rig_file_of(const Specimen& specimen, const SeriesPlan& plan);

/// Reads every rig that a filmed bar of `rows` needs, and measures the free swings of the
/// default rig first: the losses of all of them together (swing/fit_decay.h) then stand in its
/// pendulum, over any that its file has. A rig file that cannot be used is kept as its fault; a
/// free swing that cannot be used is a warning.
[[nodiscard]] RigShelf stock_rigs(const SeriesPlan& plan,
                                  const std::vector<SpecimenRow>& rows,
                                  Reuse reuse);

}  // namespace swingloss
