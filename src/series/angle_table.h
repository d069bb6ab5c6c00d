// SPDX-License-Identifier: Apache-2.0
/// \file angle_table.h
/// Angles that an encoder or another program recorded, as a track.
#pragma once

#include "core/angle_track.h"
#include "core/remark.h"

#include <string>

namespace swingloss {

/// A track from a file, and what had to be assumed for it.
struct AngleTable {
  AngleTrack track;
  Remarks remarks;
};

/// Reads a CSV table with the columns `t_s`, one of `angle_deg`, `angle_from_hanging_deg` and
/// `angle_rad` (any zero, either direction), and perhaps `u_deg` or `u_rad`, the standard
/// uncertainty of one angle.
///
/// Without a column u, it is taken as the larger of the scatter of third differences,
/// |median| 1.4826 / sqrt(20), which a smooth swing leaves alone, and the finest step between
/// two angles of the file over sqrt(12) [JCGM100 4.3.7]; a remark says how much.
/// \throws InputError  as core/csv.h; a missing or unknown column; times that do not grow; u
///                     not above zero
[[nodiscard]] AngleTable read_angle_table(const std::string& path);

}  // namespace swingloss
