// SPDX-License-Identifier: Apache-2.0
#include "core/angle_track.h"

#include <algorithm>

namespace swingloss {

double rate_rad_per_s(const AngleTrack& track, std::size_t sample) {
  const AngleSample& before = track.samples[sample > 0 ? sample - 1 : 0];
  const AngleSample& after = track.samples[std::min(sample + 1, track.samples.size() - 1)];
  const double gap_s = after.t_s - before.t_s;
  return gap_s > 0.0 ? (after.theta_rad - before.theta_rad) / gap_s : 0.0;
}

}  // namespace swingloss
