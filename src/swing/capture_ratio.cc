// SPDX-License-Identifier: Apache-2.0
#include "swing/capture_ratio.h"

#include "core/number_text.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace swingloss {
namespace {

/// 60/25, 60/24, 120/25, 240/25; 25/24, 30/25.
constexpr std::array<double, 6> kBroken = {2.4, 2.5, 4.8, 9.6, 25.0 / 24.0, 1.2};
constexpr double kMostTimesSlower = 40.0;  // 960 shown at 24
constexpr double kRateSlack = 1.1e-3;

Remark slow_motion(double ratio) {
  return {"slow-motion",
          Severity::Note,
          "By the rig's reduced length the clip plays " + significant_text(ratio, 4) +
              " times slower than it was taken. Angles and energies by height do not depend on "
              "it; speeds were corrected by this ratio."};
}

Remark time_or_length_off(double ratio) {
  const double off = ratio - 1.0;
  const std::string seen =
      std::abs(off) > 0.1
          ? "by that length the clip plays " + significant_text(ratio, 4) +
                " times slower than it was taken, which is no usual slow motion"
          : "the swing in the clip is " + significant_text(100.0 * std::abs(off), 2) + " % " +
                (off > 0.0 ? "slower" : "faster") + " than that length says";
  return {"time-or-length-off",
          Severity::Warning,
          "The reduced length of the rig or the clip's rate is wrong: " + seen +
              ". Energies by height depend on them through the rig file's friction alone. The "
              "impact speed was corrected as if it were the rate, with the doubt in its "
              "uncertainty; no "
              "check by speeds was made. Time fifty small swings for the length."};
}

}  // namespace

bool is_usual_rate_ratio(double ratio, double u) {
  const double slower = std::max(ratio, 1.0 / ratio);
  const double relative_u = u / ratio;
  const auto is_near = [&](double usual) {
    return std::abs(slower / usual - 1.0) <= 3.0 * relative_u + kRateSlack;
  };
  const double whole = std::clamp(std::round(slower), 2.0, kMostTimesSlower);
  return is_near(whole) || std::any_of(kBroken.begin(), kBroken.end(), is_near);
}

CaptureRatio capture_ratio(const Uncertain& by_rig_per_s, const Uncertain& by_clip_per_s) {
  const Uncertain ratio = by_rig_per_s / by_clip_per_s;
  const double off = ratio.value() - 1.0;
  if (std::abs(off) <= 3.0 * ratio.u()) return {};
  if (is_usual_rate_ratio(ratio.value(), ratio.u())) {
    return {ratio, true, slow_motion(ratio.value())};
  }
  const Uncertain either = Uncertain::from(
      0.0, std::abs(off) / std::sqrt(2.0), "clip.rate-or-length", SourceKind::Shared);
  return {ratio + either, false, time_or_length_off(ratio.value())};
}

std::optional<Uncertain> rate_by_rig(const Uncertain& by_rig_per_s,
                                     const Uncertain& by_clip_per_s) {
  const Uncertain ratio = by_rig_per_s / by_clip_per_s;
  if (std::abs(ratio.value() - 1.0) > 3.0 * ratio.u()) return std::nullopt;
  const Uncertain clock =
      Uncertain::from(1.0, 1e-3 / std::sqrt(3.0), "clip.clock", SourceKind::Shared);
  return by_rig_per_s * clock;
}

}  // namespace swingloss
