// SPDX-License-Identifier: Apache-2.0
#include "swing/length_by_swing.h"

#include "swing/capture_ratio.h"
#include "swing/swing_law.h"

namespace swingloss {

std::optional<Uncertain> length_by_swing(const Pendulum& pendulum,
                                         const Uncertain& by_clip_per_s) {
  constexpr double kWorthwhile = 0.8;
  const Uncertain by_rig_per_s = natural_rad_per_s(pendulum);
  const std::optional<Uncertain> pace = clip_clock(by_rig_per_s, by_clip_per_s);
  if (!pace || by_clip_per_s.u() > kWorthwhile * by_rig_per_s.u()) return std::nullopt;
  const Uncertain rate_per_s = Uncertain::from(
      by_clip_per_s.value(), by_clip_per_s.u(), "rig.reduced-length", SourceKind::Shared);
  const Uncertain true_per_s = rate_per_s / *pace;
  return pendulum.gravity_m_per_s2 / (true_per_s * true_per_s);
}

}  // namespace swingloss
