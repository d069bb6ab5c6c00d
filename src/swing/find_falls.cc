// SPDX-License-Identifier: Apache-2.0
#include "swing/find_falls.h"

#include "core/median.h"
#include "swing/clip_scene.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

/// A free arc needs pi/2 or more to its turning point; a bar that stops the hammer does so well
/// within this [1/w0].
constexpr double kShortestFreeRise = 1.1;
/// Likewise until it is back at the bottom: pi or more when free.
constexpr double kShortestFreeArc = 2.2;

/// A bar that does not break may be bent so far before it throws the hammer back [rad]; what
/// turns the arm round farther on is a hand.
constexpr double kFarthestBend_rad = 0.45;

/// Median energy of the samples whose time from `from_s` (towards the future or the past) is
/// 0.3 and 1.2: beyond the reach of windows that straddle the bottom. Nothing if there are
/// none.
std::optional<double> energy_near(const ClipScene& scene, double at_s, double direction) {
  std::vector<double> energies;
  for (std::size_t i = 0; i < scene.x_rad.size(); ++i) {
    const double s = direction * (scene.t_s(i) - at_s) * scene.guess->natural_rad_per_s;
    if (s < 0.3 || s > 1.2) continue;
    const std::optional<double> e = scene.energy(i);
    if (e) energies.push_back(*e);
  }
  if (energies.empty()) return std::nullopt;
  return median_of(energies);
}

/// Time at which x passes zero after an excursion; the first sample at the bottom where it is
/// stopped before it gets there.
double bottom_time_s(const ClipScene& scene, const Excursion& from) {
  for (std::size_t i = from.end; i < from.block_end; ++i) {
    if (scene.s_between(from.end - 1, i) > 0.6 || scene.leaning[i]) break;
    const double before = scene.x_rad[i - 1] * from.side;
    const double after = scene.x_rad[i] * from.side;
    if (after > 0.0) continue;
    const double part = before / (before - after);
    return scene.t_s(i - 1) + part * (scene.t_s(i) - scene.t_s(i - 1));
  }
  return scene.t_s(from.end);
}

/// Where the fall began: the end of the last hold, else the nearest crest.
void find_start(const ClipScene& scene, const Excursion& from, Fall& fall) {
  for (const StaticStretch& still : scene.still) {
    // A hold right after a cut may begin before the excursion is seen to.
    const bool inside = still.end > from.begin + 1 && still.end <= from.end;
    if (inside && is_held(scene, still)) fall.hold = still;
  }
  std::size_t crest = from.end - 1;
  const double slack_rad = 4.0 * (*scene.samples)[crest].u_rad + 0.002;
  const std::size_t first = fall.hold ? fall.hold->end - 1 : from.begin;
  for (std::size_t i = from.end; i-- > first;) {
    const double x = scene.smooth_rad[i] * from.side;
    const double top = scene.smooth_rad[crest] * from.side;
    if (x > top) crest = i;
    if (x < top - slack_rad) break;
  }
  fall.amplitude_rad = scene.smooth_rad[crest] * from.side;
  fall.start_s = scene.t_s(crest);
  if (fall.hold && scene.s_between(fall.hold->end - 1, crest) < 0.5) {
    fall.start_s = scene.t_s(fall.hold->end - 1);
  } else {
    fall.hold.reset();
  }
  const bool first_of_all =
      crest == 0 || std::binary_search(scene.cuts.begin(), scene.cuts.end(), crest);
  fall.start_seen = fall.hold.has_value() || !first_of_all;
}

/// The farthest point of samples [begin, end) toward `side`, and whether the arm came back.
struct Crest {
  std::size_t at = 0;
  double x_rad = 0.0;
  bool returned = false;
};

Crest crest_of(const ClipScene& scene, std::size_t begin, std::size_t end, double side) {
  Crest crest{begin, scene.smooth_rad[begin] * side, false};
  for (std::size_t i = begin; i < end; ++i) {
    const double x = scene.smooth_rad[i] * side;
    const double slack_rad = 8.0 * (*scene.samples)[i].u_rad + 1e-4;
    if (crest.returned && x > crest.x_rad) break;
    if (x > crest.x_rad) crest = {i, x, false};
    if (x < crest.x_rad - slack_rad) crest.returned = true;
  }
  return crest;
}

/// Whether samples come to a standstill within `within` [1/w0] of the bottom.
bool stops(const ClipScene& scene, const Fall& fall, std::size_t block_end) {
  for (const StaticStretch& still : scene.still) {
    const double s = (scene.t_s(still.begin) - fall.bottom_s) * scene.guess->natural_rad_per_s;
    if (still.end <= block_end && s > -0.1 && s < kShortestFreeRise) return true;
  }
  return false;
}

void set_turn(const ClipScene& scene, const Crest& crest, double sign, Fall& fall) {
  fall.turn_rad = sign * crest.x_rad;
  fall.turn_s = scene.t_s(crest.at);
  fall.turn_seen = crest.returned;
}

/// What came after, from the excursions that follow in the same block.
void find_outcome(const ClipScene& scene,
                  const std::vector<Excursion>& all,
                  std::size_t k,
                  Fall& fall) {
  const double w0 = scene.guess->natural_rad_per_s;
  const Excursion& from = all[k];
  const double rest_of_block = (scene.t_s(from.block_end - 1) - fall.bottom_s) * w0;
  std::size_t next = k + 1;
  const auto follows = [&](std::size_t j) {
    return j < all.size() && all[j].begin < from.block_end;
  };
  if (follows(next) && all[next].side != from.side) {
    const Crest crest = crest_of(scene, all[next].begin, all[next].end, -from.side);
    const double rise = (scene.t_s(crest.at) - fall.bottom_s) * w0;
    const bool back = all[next].end < from.block_end &&
                      (scene.t_s(all[next].end) - fall.bottom_s) * w0 < kShortestFreeArc;
    const bool turned =
        rise < kShortestFreeRise && (crest.returned || stops(scene, fall, from.block_end));
    const bool bent = back || turned;
    if (bent && crest.x_rad > kFarthestBend_rad) return;
    if (!bent) {
      const bool late = (scene.t_s(all[next].begin) - fall.bottom_s) * w0 > 1.5;
      fall.after = late ? AfterFall::Stop : AfterFall::Rise;
      if (!late) set_turn(scene, crest, -1.0, fall);
      return;
    }
    ++next;
  }
  const bool soon = follows(next) && all[next].side == from.side &&
                    (scene.t_s(all[next].begin) - fall.bottom_s) * w0 < kShortestFreeArc;
  if (soon) {
    fall.after = AfterFall::Rebound;
    set_turn(scene, crest_of(scene, all[next].begin, all[next].end, from.side), 1.0, fall);
  } else if (rest_of_block > kShortestFreeRise || stops(scene, fall, from.block_end)) {
    fall.after = AfterFall::Stop;
  }
}

/// The fall that ends excursion k, unless a hand lowered the arm or pushed it.
std::optional<Fall> fall_from(const ClipScene& scene,
                              const std::vector<Excursion>& all,
                              std::size_t k) {
  const Excursion& from = all[k];
  if (from.end >= from.block_end) return std::nullopt;
  if (crest_of(scene, from.begin, from.end, from.side).x_rad < 3.0 * scene.edge_rad) {
    return std::nullopt;
  }
  Fall fall;
  fall.side = from.side;
  fall.bottom_s = bottom_time_s(scene, from);
  fall.block_end_s = scene.t_s(from.block_end - 1);
  find_start(scene, from, fall);
  fall.energy_before = energy_near(scene, fall.bottom_s, -1.0).value_or(0.0);
  const double height = 1.0 - std::cos(fall.amplitude_rad);
  const bool free = fall.energy_before > 0.5 * height && fall.energy_before < 1.3 * height;
  if (fall.start_seen && !free) return std::nullopt;
  find_outcome(scene, all, k, fall);
  if (fall.after == AfterFall::Rise) {
    const std::optional<double> after = energy_near(scene, fall.bottom_s, 1.0);
    if (!after) fall.after = AfterFall::Unseen;
    fall.energy_after = after.value_or(0.0);
  }
  return fall;
}

}  // namespace

Result<FallsFound> find_falls(const std::vector<AngleSample>& samples) {
  Result<LawGuess> guess = guess_law(samples);
  if (!guess.ok()) return guess.failure();
  FallsFound found;
  found.guess = std::move(guess).value();
  const std::vector<AngleSample> calm = without_spikes(samples);
  const ClipScene scene = scene_of(calm, found.guess);
  found.still = scene.still;
  const std::vector<Excursion> all = excursions(scene);
  for (std::size_t k = 0; k < all.size(); ++k) {
    const std::optional<Fall> fall = fall_from(scene, all, k);
    if (fall) found.falls.push_back(*fall);
  }
  if (found.falls.empty()) {
    return Failure{"no-swing",
                   "the arm moves, but nowhere falls freely to its lowest point",
                   "Film from before the release until after the blow, without a cut."};
  }
  return found;
}
}  // namespace swingloss
