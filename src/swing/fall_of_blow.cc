// SPDX-License-Identifier: Apache-2.0
#include "core/expects.h"
#include "swing/find_falls.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace swingloss {
namespace {

double height(double angle_rad) { return 1.0 - std::cos(angle_rad); }

/// Energy over M lost from crest to crest; where a hand spoilt the second crest, from the
/// speeds on both sides of the bottom.
double loss_of(const Fall& fall) {
  switch (fall.after) {
    case AfterFall::Rebound:
    case AfterFall::Stop:
      return height(fall.amplitude_rad);
    case AfterFall::Unseen:
      return 0.0;
    case AfterFall::Rise:
      break;
  }
  const double by_crest = height(fall.amplitude_rad) - height(fall.turn_rad);
  const double by_speed = fall.energy_before - fall.energy_after;
  const bool spoilt = !fall.turn_seen || std::abs(height(fall.turn_rad) - fall.energy_after) >
                                             0.15 * std::max(fall.energy_after, 0.1);
  return spoilt ? by_speed : by_crest;
}

/// Whether a fall is the arm swinging on by itself: it began where the free rise before ended.
bool swings_on(const std::vector<Fall>& falls, std::size_t i) {
  if (i == 0 || falls[i].hold) return false;
  const Fall& before = falls[i - 1];
  const double fall_s = falls[i].bottom_s - falls[i].start_s;
  return before.after == AfterFall::Rise && before.turn_seen &&
         std::abs(falls[i].start_s - before.turn_s) < 0.3 * fall_s;
}

/// Proportions of energy that passes lose which nobody released.
std::vector<double> free_loss_shares(const std::vector<Fall>& falls) {
  std::vector<double> shares;
  for (std::size_t i = 0; i < falls.size(); ++i) {
    const Fall& fall = falls[i];
    if (!swings_on(falls, i) || fall.after != AfterFall::Rise || !fall.turn_seen) continue;
    shares.push_back(std::max(0.0, loss_of(fall) / height(fall.amplitude_rad)));
  }
  return shares;
}

/// Losses beyond the usual; 0 for falls that nobody released: no bar is put in for those.
std::vector<double> excess_losses(const std::vector<Fall>& falls) {
  const double share = usual_loss_share(falls);
  std::vector<double> excess;
  for (std::size_t i = 0; i < falls.size(); ++i) {
    const double loss = loss_of(falls[i]) - share * height(falls[i].amplitude_rad);
    excess.push_back(swings_on(falls, i) ? 0.0 : loss);
  }
  return excess;
}

/// Below this part of the largest fall's energy a loss may be friction's own growth with
/// amplitude.
constexpr double kSmallestBlow = 0.03;

bool looks_like_blow(const std::vector<Fall>& falls, double excess) {
  double highest = 0.0;
  for (const Fall& fall : falls) highest = std::max(highest, height(fall.amplitude_rad));
  return excess > kSmallestBlow * highest;
}

/// The first of the great losses among falls that began with a hold, or among those without.
std::optional<std::size_t> first_great_loss(const std::vector<Fall>& falls,
                                            const std::vector<double>& excess,
                                            bool held) {
  const double most = *std::max_element(excess.begin(), excess.end());
  for (std::size_t i = 0; i < falls.size(); ++i) {
    if (excess[i] >= 0.5 * most && falls[i].hold.has_value() == held) return i;
  }
  return std::nullopt;
}

}  // namespace

double usual_loss_share(const std::vector<Fall>& falls) {
  const std::vector<double> shares = free_loss_shares(falls);
  return shares.empty() ? 0.0 : *std::min_element(shares.begin(), shares.end());
}

double loss_share_spread(const std::vector<Fall>& falls) {
  const std::vector<double> shares = free_loss_shares(falls);
  if (shares.size() < 2) return 0.0;
  const auto [least, most] = std::minmax_element(shares.begin(), shares.end());
  return *most - *least;
}

std::size_t fall_of_blow(const std::vector<Fall>& falls) {
  expects(!falls.empty(), "no falls to choose from");
  const std::vector<double> excess = excess_losses(falls);
  const double most = *std::max_element(excess.begin(), excess.end());
  if (looks_like_blow(falls, most)) {
    // A hold is the best sign of a release; a hand that meddles makes falls without one.
    for (const bool held : {true, false}) {
      if (const auto chosen = first_great_loss(falls, excess, held)) return *chosen;
    }
  }
  double highest = 0.0;
  for (const Fall& fall : falls) highest = std::max(highest, height(fall.amplitude_rad));
  for (std::size_t i = 0; i < falls.size(); ++i) {
    if (height(falls[i].amplitude_rad) > 0.97 * highest) return i;
  }
  return 0;
}

std::vector<std::size_t> all_blows(const std::vector<Fall>& falls) {
  const std::vector<double> excess = excess_losses(falls);
  std::vector<std::size_t> blows;
  if (falls.empty()) return blows;
  const double most = *std::max_element(excess.begin(), excess.end());
  for (std::size_t i = 0; i < falls.size(); ++i) {
    const bool great = falls[i].hold.has_value() || excess[i] > 0.4 * most;
    if (great && looks_like_blow(falls, excess[i])) blows.push_back(i);
  }
  return blows;
}

std::vector<std::size_t> other_blows(const std::vector<Fall>& falls, std::size_t chosen) {
  const std::vector<double> excess = excess_losses(falls);
  std::vector<std::size_t> others;
  for (std::size_t i = 0; i < falls.size(); ++i) {
    if (i != chosen && excess[i] > 0.4 * excess[chosen] && looks_like_blow(falls, excess[i])) {
      others.push_back(i);
    }
  }
  return others;
}

}  // namespace swingloss
