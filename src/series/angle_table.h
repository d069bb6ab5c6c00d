// SPDX-License-Identifier: Apache-2.0
/// \file angle_table.h
/// Angles that an encoder or another program recorded, as a track.
#pragma once

#include "core/angle_track.h"
#include "core/remark.h"

#include <string>
#include <vector>

namespace swingloss {

/// A track from a file, and what had to be assumed for it.
struct AngleTable {
  AngleTrack track;
  Remarks remarks;
};

/// How to read a table that does not name its columns as below.
struct AngleTableOptions {
  /// Time and angle, or the angle alone (then with rate_per_s): names, or numbers from 1.
  std::vector<std::string> columns;
  bool radians = false;      ///< the angles; else degrees
  double time_unit_s = 1.0;  ///< of the times
  double rate_per_s = 0.0;   ///< of samples, where the table has no times; 0: it has
  int skip_lines = 0;        ///< before the table or its header

  /// Whether anything was asked for.
  [[nodiscard]] bool any() const {
    return !columns.empty() || radians || time_unit_s != 1.0 || rate_per_s > 0.0 ||
           skip_lines > 0;
  }
};

/// Reads a CSV table with the columns `t_s`, one of `angle_deg`, `angle_from_hanging_deg` and
/// `angle_rad` (any zero, either direction), and perhaps `u_deg` or `u_rad`, the standard
/// uncertainty of one angle.
///
/// Without a column u, it is taken as the larger of the scatter of third differences,
/// |median| 1.4826 / sqrt(20), which a smooth swing leaves alone, and the finest step between
/// two angles of the file over sqrt(12) [JCGM100 4.3.7]; a remark says how much.
///
/// With options, or where the first line is numbers only, the table is read by
/// series/plain_table.h: any separator, header or none. Numbers alone in two columns or more
/// are taken as seconds and degrees, with a remark. \throws InputError  as core/csv.h and
/// series/plain_table.h; a missing or unknown column;
///                     times that do not grow; u not above zero
[[nodiscard]] AngleTable read_angle_table(const std::string& path,
                                          const AngleTableOptions& options = {});

}  // namespace swingloss
