// SPDX-License-Identifier: Apache-2.0
#include "swing/later_decay.h"

#include "core/angle.h"
#include "swing/energy.h"
#include "swing/fit_decay.h"

#include <cmath>

namespace swingloss {

std::optional<double> loss_by_later_swings(const Explained& apart) {
  constexpr int kFewestHalfSwings = 5;
  AngleTrack later;
  for (const AngleSample& sample : apart.track.samples) {
    if (sample.t_s > apart.plan.fall_bottom_s) later.samples.push_back(sample);
  }
  const Result<FreeDecay> decay = fit_decay(later);
  if (!decay.ok() || decay.value().half_swings < kFewestHalfSwings) return std::nullopt;
  const double release_rad = apart.fit.parameters[apart.places().amplitude(0)];
  if (release_rad <= 0.0 || release_rad >= kPi) return std::nullopt;
  const Uncertain release = Uncertain::exact(release_rad);
  const std::optional<Uncertain> rise = free_rise_rad(decay.value().law, release);
  if (!rise) return 1.0 - std::cos(release_rad);
  return raw_absorbed_J(Uncertain::exact(1.0), release, *rise).value();
}

}  // namespace swingloss
