// SPDX-License-Identifier: Apache-2.0
#include "swing/track_legs.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

/// Time to go from a fifth to four fifths of a leg; nothing with fewer than `fewest` samples
/// on the way.
std::optional<double> transit_s(const std::vector<AngleSample>& samples,
                                const Leg& leg,
                                int fewest) {
  const double from = samples[leg.begin].theta_rad;
  const double to = samples[leg.end].theta_rad;
  double last_before_s = samples[leg.begin].t_s;
  double first_beyond_s = samples[leg.end].t_s;
  int inside = 0;
  for (std::size_t i = leg.begin; i <= leg.end; ++i) {
    const double part = (samples[i].theta_rad - from) / (to - from);
    if (part < 0.2) last_before_s = samples[i].t_s;
    if (part >= 0.2 && part <= 0.8) ++inside;
    if (part > 0.8) {
      first_beyond_s = samples[i].t_s;
      break;
    }
  }
  if (inside < fewest) return std::nullopt;
  return first_beyond_s - last_before_s;
}

}  // namespace

std::vector<Leg> legs_of(const std::vector<AngleSample>& samples, double threshold_rad) {
  std::vector<std::size_t> turns{0};
  std::size_t low = 0;
  std::size_t high = 0;
  int direction = 0;
  for (std::size_t i = 1; i < samples.size(); ++i) {
    const double theta = samples[i].theta_rad;
    if (theta > samples[high].theta_rad) high = i;
    if (theta < samples[low].theta_rad) low = i;
    const bool fell = samples[high].theta_rad - theta > threshold_rad;
    const bool rose = theta - samples[low].theta_rad > threshold_rad;
    if (direction >= 0 && fell) {
      turns.push_back(high);
      direction = -1;
      low = i;
    } else if (direction <= 0 && rose) {
      turns.push_back(low);
      direction = 1;
      high = i;
    }
  }
  turns.push_back(direction > 0 ? high : low);
  std::vector<Leg> legs;
  for (std::size_t k = 1; k < turns.size(); ++k) {
    if (turns[k] <= turns[k - 1]) continue;
    legs.push_back({turns[k - 1],
                    turns[k],
                    std::abs(samples[turns[k]].theta_rad - samples[turns[k - 1]].theta_rad)});
  }
  return legs;
}

std::optional<QuickLeg> quickest_leg(const std::vector<AngleSample>& samples,
                                     const std::vector<Leg>& legs) {
  double largest_rad = 0.0;
  for (const Leg& leg : legs) largest_rad = std::max(largest_rad, leg.span_rad);
  for (const int fewest : {4, 3, 2}) {
    std::optional<QuickLeg> best;
    for (const Leg& leg : legs) {
      if (leg.span_rad < 0.4 * largest_rad) continue;
      const std::optional<double> t_s = transit_s(samples, leg, fewest);
      if (t_s && (!best || *t_s < best->transit_s)) best = QuickLeg{leg, *t_s};
    }
    if (best) return best;
  }
  return std::nullopt;
}

}  // namespace swingloss
