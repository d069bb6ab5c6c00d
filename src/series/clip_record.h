// SPDX-License-Identifier: Apache-2.0
/// \file clip_record.h
/// The record of one clip of a series: from the store, or measured and stored.
#pragma once

#include "series/reuse.h"
#include "series/swing_record.h"
#include "swing/pendulum.h"
#include "tracking/recall_view.h"

#include <optional>
#include <string>
#include <vector>

namespace swingloss {

struct ClipJob {
  std::string clip;       ///< where it is
  std::string shown_as;   ///< as typed
  std::string stored_in;  ///< path of its record
  std::string rig_mark;   ///< as inputs_mark() takes it
  const Pendulum* pendulum = nullptr;
  std::vector<KnownView> views;  ///< as MeasureOptions has them
  int jobs = 0;                  ///< threads; 0 takes the machine's
};

/// \return nothing: only stored records are wanted, and there is none for a clip that can be
///         measured
/// \throws InputError  as measure_clip(), also where only stored records are wanted; the store
///                     cannot be written
[[nodiscard]] std::optional<SwingRecord> clip_record(const ClipJob& job, Reuse reuse);

}  // namespace swingloss
