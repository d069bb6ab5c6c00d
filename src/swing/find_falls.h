// SPDX-License-Identifier: Apache-2.0
/// \file find_falls.h
/// What happens in a clip: every fall to the bottom, where it came from and what came of it.
#pragma once

#include "core/angle_track.h"
#include "core/result.h"
#include "swing/guess_law.h"

#include <optional>
#include <vector>

namespace swingloss {

/// What the arm did after it reached the bottom.
enum class AfterFall {
  Rise,     ///< flew on to the far side
  Rebound,  ///< was thrown back within a fraction of the time that a free arc takes
  Stop,     ///< stayed at the bottom
  Unseen,   ///< the clip, or this part of it, ends first
};

/// One fall to the bottom. Angles from hanging rest, positive on the side it fell from.
struct Fall {
  double side = 1.0;           ///< +1 when that side is the track's positive one, else -1
  bool start_seen = false;     ///< the clip shows it at rest, or turning, before the fall
  double amplitude_rad = 0.0;  ///< angle it fell from, roughly
  double start_s = 0.0;        ///< when it began to fall, roughly
  std::optional<StaticStretch> hold;  ///< the arm held still before, in the track's angles
  double bottom_s = 0.0;              ///< when it reached the bottom
  AfterFall after = AfterFall::Unseen;
  bool turn_seen = false;  ///< Rise, Rebound: the next turning point is in the clip
  double turn_rad = 0.0;   ///< its angle: negative after a rise; the largest seen if not
  double turn_s = 0.0;
  double block_end_s = 0.0;  ///< the last sample before a cut or the end
  /// Energies over M just before and just after the bottom, from speed and height there; after
  /// 0 when it stopped or was thrown back. Rough: some per cent.
  double energy_before = 0.0, energy_after = 0.0;
};

/// All that was found, in the order of time.
struct FallsFound {
  LawGuess guess;
  std::vector<StaticStretch> still;  ///< every stretch without motion, holds and rests
  std::vector<Fall> falls;
};

/// Finds falls in a track of any zero and direction, unevenly timed, with gaps, lifts by hand,
/// cuts and stretches of rest.
///
/// \return at least one fall, or Failure `no-swing` with what was seen instead
[[nodiscard]] Result<FallsFound> find_falls(const std::vector<AngleSample>& samples);

/// What a pass loses in proportion when nothing is in its way: the least of those that nobody
/// released, the arm swinging on by itself; 0 when there are none.
[[nodiscard]] double usual_loss_share(const std::vector<Fall>& falls);

/// The largest of those proportions less the least; 0 for fewer than two.
[[nodiscard]] double loss_share_spread(const std::vector<Fall>& falls);

/// Index of the fall that ends in the blow: of those that somebody released (not the arm
/// swinging on by itself) the first that loses at least half as much energy at the bottom,
/// beyond what other passes lose in proportion, as the one that loses most. Where none loses
/// more than friction does: the first of the highest falls.
[[nodiscard]] std::size_t fall_of_blow(const std::vector<Fall>& falls);

/// Every released fall that loses energy at the bottom as a blow does, in the order of time:
/// those from a hold, and of the others those that lose at least 0.4 of what the greatest does.
[[nodiscard]] std::vector<std::size_t> all_blows(const std::vector<Fall>& falls);

/// Other released falls that lose energy at the bottom as a blow does.
[[nodiscard]] std::vector<std::size_t> other_blows(const std::vector<Fall>& falls,
                                                   std::size_t chosen);

}  // namespace swingloss
