// SPDX-License-Identifier: Apache-2.0
/// \file best_path.h
/// From scores of every direction in every frame to one course of the arm. Internal to
/// tracking.
#pragma once

#include "core/angle.h"

#include <vector>

namespace swingloss {

/// Directions are told apart in so many steps of a full turn.
inline constexpr int kDirectionBins = 360;
inline constexpr double kDirectionBin_rad = 2.0 * kPi / kDirectionBins;

/// The bin, 0 to kDirectionBins - 1, that an unwrapped one is.
[[nodiscard]] constexpr int wrapped_bin(int bin) {
  return ((bin % kDirectionBins) + kDirectionBins) % kDirectionBins;
}

/// The course with the largest sum of scores, less a price for fast turning; no step is faster
/// than a pendulum can be (dynamic programming).
/// \param scores  a row a frame, one or more, kDirectionBins each \param t_s  of the frames
/// \return a bin a frame, unwrapped: neighbours differ by what the arm turns
[[nodiscard]] std::vector<int> best_path(const std::vector<std::vector<float>>& scores,
                                         const std::vector<double>& t_s);

}  // namespace swingloss
