// SPDX-License-Identifier: Apache-2.0
#include "series/release_of_rig.h"

#include "ranking/sample.h"

#include <algorithm>
#include <cmath>

namespace swingloss {

std::optional<MeasuredRelease> release_of_rig(const SeriesResult& series,
                                              const std::string& rig) {
  std::vector<double> angles_rad;
  double squares = 0.0;
  for (const BarResult& bar : series.bars) {
    if (bar.bar.rig != rig || !bar.swing) continue;
    const std::optional<Uncertain>& release = bar.swing->measurement.release_angle_rad;
    if (!release) continue;
    angles_rad.push_back(release->value());
    squares += release->u() * release->u();
  }
  if (angles_rad.empty()) return std::nullopt;
  const Sample sample = summarise(angles_rad);
  const double own_u = std::sqrt(squares / sample.n);
  const double u = std::max(own_u, sample.s.value_or(0.0));
  return MeasuredRelease{
      Uncertain::from(sample.mean, u, "clips.release " + rig, SourceKind::Shared), sample.n};
}

}  // namespace swingloss
