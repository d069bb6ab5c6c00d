// SPDX-License-Identifier: Apache-2.0
/// \file lively_frames.h
/// Which frames of a long recording are worth following closely. Internal to tracking.
#pragma once

#include <cstddef>
#include <vector>

namespace swingloss {

/// As many frames are followed closely at most.
inline constexpr std::size_t kMostRefined = 1600;

/// All frames of a clip of up to kMostRefined. Of a longer one those within a second of fast
/// motion (the falls and the first swings after them) as far as there is room, and of the rest
/// (hammer carried up, hanging, a bar being put in) every few: a recording of several bars
/// keeps its full rate where it counts.
///
/// Fast is what turns at more than 0.3 of the fastest that is seen, so slow motion does not
/// matter.
///
/// \param t_s  times of the frames \param theta_rad  coarse directions, as many
/// \return indices, ascending
[[nodiscard]] std::vector<int> frames_to_refine(const std::vector<double>& t_s,
                                                const std::vector<double>& theta_rad);

}  // namespace swingloss
