// SPDX-License-Identifier: Apache-2.0
/// \file simulate_ranks.h
/// How sure each rank is: many worlds that the bars do not contradict.
#pragma once

#include "ranking/belief.h"
#include "ranking/shared_sources.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace swingloss {

/// The ranks of one group over all simulated worlds.
struct RankChances {
  std::vector<double> probability;  ///< P(rank = r + 1); 1 = toughest
  int low = 0, high = 0;  ///< ranks that hold with the confidence asked for, both ends in
};

struct RankSimulation {
  double confidence = 0.95;
  int draws = 20000;
  std::uint64_t seed = 1;
};

/// Draws every group's mean from its belief and every shared source once a world for all
/// groups, sorts, and counts. What two groups share moves both and so leaves their order alone.
///
/// Deterministic: one generator (64-bit Mersenne twister) and an own table of the normal's
/// quantiles, so that all machines draw the same worlds.
/// \param beliefs  of the groups that can be drawn; row g of `shared` belongs to belief g
/// \return one entry a belief
[[nodiscard]] std::vector<RankChances> simulate_ranks(const std::vector<Belief>& beliefs,
                                                      const SharedSources& shared,
                                                      const RankSimulation& options);

/// Ranks between which the middle `confidence` of the probability lies, whole ranks, at least
/// that much.
[[nodiscard]] std::pair<int, int> rank_interval(const std::vector<double>& probability,
                                                double confidence);

}  // namespace swingloss
