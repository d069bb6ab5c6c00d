// SPDX-License-Identifier: Apache-2.0
#include "swing/speed_change.h"

#include "core/median.h"
#include "swing/guess_law.h"
#include "swing/local_motion.h"
#include "swing/track_legs.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

namespace swingloss {
namespace {

/// A pendulum is quicker or slower than another one by so much at least.
constexpr double kOther = 1.5;

std::optional<LawGuess> guess_of(const std::vector<AngleSample>& samples) {
  Result<LawGuess> guess = guess_law(samples);
  if (!guess.ok()) return std::nullopt;
  return std::move(guess).value();
}

bool is_other(double rate, double usual) {
  return std::abs(std::log(rate / usual)) > std::log(kOther);
}

/// Time of the last sample after a turning point, before the next, until which the arm moves as
/// fast as the pendulum that it was.
double change_after_s(const std::vector<AngleSample>& samples,
                      const Leg& leg,
                      const LawGuess& law) {
  const double turn_rad = samples[leg.begin].theta_rad - law.zero_rad;
  std::size_t last = leg.begin;
  for (std::size_t i = leg.begin + 1; i < leg.end; ++i) {
    const double x_rad = samples[i].theta_rad - law.zero_rad;
    const double expected_rad_per_s =
        law.natural_rad_per_s *
        std::sqrt(2.0 * std::max(0.0, std::cos(x_rad) - std::cos(turn_rad)));
    const double step_rad = std::abs(samples[i + 1].theta_rad - samples[i - 1].theta_rad);
    const bool tells = step_rad > 10.0 * samples[i].u_rad && expected_rad_per_s > 0.0;
    const double seen_rad_per_s = step_rad / (samples[i + 1].t_s - samples[i - 1].t_s);
    if (tells && is_other(seen_rad_per_s, expected_rad_per_s)) break;
    if (tells) last = i;
  }
  return samples[last].t_s;
}

}  // namespace

std::optional<double> speed_change_s(const std::vector<AngleSample>& samples, double latest_s) {
  constexpr std::size_t kFewest = 12;
  const std::vector<AngleSample> steady = running_median(without_spikes(samples));
  const auto by_angle = [](const AngleSample& a, const AngleSample& b) {
    return a.theta_rad < b.theta_rad;
  };
  const auto [low, high] = std::minmax_element(steady.begin(), steady.end(), by_angle);
  const std::vector<Leg> legs = legs_of(steady, 0.05 * (high->theta_rad - low->theta_rad));
  for (std::size_t j = legs.size(); j-- > 1;) {
    if (samples[legs[j].begin].t_s > latest_s) continue;
    const auto turn = samples.begin() + std::ptrdiff_t(legs[j].begin);
    const std::vector<AngleSample> before(samples.begin(), turn + 1),
        after(turn, samples.end());
    if (before.size() < kFewest || after.size() < kFewest) continue;
    const std::optional<LawGuess> first = guess_of(before), second = guess_of(after);
    if (first && second && is_other(second->natural_rad_per_s, first->natural_rad_per_s))
      return change_after_s(samples, legs[j], *first);
  }
  return std::nullopt;
}

}  // namespace swingloss
