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

AngleTrack stretch_of(const AngleTrack& track, double from_s, double to_s) {
  AngleTrack part;
  part.u_place_rad = track.u_place_rad;
  std::vector<Eigen::Index> rows;
  for (std::size_t i = 0; i < track.samples.size(); ++i) {
    if (track.samples[i].t_s < from_s || track.samples[i].t_s > to_s) continue;
    part.samples.push_back(track.samples[i]);
    rows.push_back(static_cast<Eigen::Index>(i));
  }
  for (const SharedDoubt& doubt : track.doubts) {
    SharedDoubt same = doubt;
    same.shape_rad = doubt.shape_rad(rows);
    part.doubts.push_back(same);
  }
  return part;
}

}  // namespace swingloss
