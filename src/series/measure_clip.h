// SPDX-License-Identifier: Apache-2.0
/// \file measure_clip.h
/// One clip, or one typed track, through tracking and physics.
#pragma once

#include "series/angle_table.h"
#include "series/swing_record.h"
#include "swing/measure_swing.h"
#include "tracking/recall_view.h"

#include <string>
#include <vector>

namespace swingloss {

struct MeasureOptions {
  TrackOptions track;
  SwingOptions swing;
  std::vector<KnownView>
      views;  ///< of other clips, for one that was filmed from the same place
};

struct TrackFileOptions {
  AngleTableOptions table;
  SwingOptions swing;
};

/// Follows the arm of a clip and fits the pendulum's law. Where either is honestly refused, the
/// record is Unclear, holds what there is, and its last remark is the refusal.
/// \param path      where the clip is
/// \param shown_as  what the record calls it
/// \param pendulum  nullptr: angles only
/// \throws InputError  no such file, not a video, audio only
[[nodiscard]] SwingRecord measure_clip(const std::string& path,
                                       const std::string& shown_as,
                                       const Pendulum* pendulum,
                                       const MeasureOptions& options = {});

/// The same from an angle track in a file (series/angle_table.h).
/// \throws InputError  as read_angle_table()
[[nodiscard]] SwingRecord measure_track_file(const std::string& path,
                                             const Pendulum* pendulum,
                                             const TrackFileOptions& options = {});

/// The physics once more, from a record whose track was changed by hand.
[[nodiscard]] SwingRecord measure_again(SwingRecord record, const Pendulum* pendulum);

/// One long recording of several bars: a record a blow, in the order of time, each with its own
/// stretch of the track (swing/split_blows.h). A recording with one blow or none, or that is
/// refused, gives one record, as measure_clip().
[[nodiscard]] std::vector<SwingRecord> measure_all_of_clip(const std::string& path,
                                                           const std::string& shown_as,
                                                           const Pendulum* pendulum,
                                                           const MeasureOptions& options = {});

/// Likewise, as measure_track_file().
[[nodiscard]] std::vector<SwingRecord> measure_all_of_track_file(
    const std::string& path, const Pendulum* pendulum, const TrackFileOptions& options = {});

/// Whether the record answers what was asked: an outcome, and, where a rig was given and a bar
/// was struck, an energy.
[[nodiscard]] bool answers(const SwingRecord& record, bool rig_given);

}  // namespace swingloss
