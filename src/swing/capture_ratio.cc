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

/// How a clip's clock may go, and how many of a hundred clips have such a one: right; or of
/// 30 000 / 1001 pictures a second (and its multiples) passed off as 30 by an editor, or the
/// other way round. Common practice, no source.
struct Clock {
  double pace, share;
};
constexpr std::array<Clock, 3> kClocks = {{{1.0, 0.98}, {1.001, 0.01}, {1.0 / 1.001, 0.01}}};
/// What a camera's crystal is good to. Common practice, no source.
constexpr double kCrystal = 5e-5;

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

std::optional<Uncertain> clip_clock(const Uncertain& by_rig_per_s,
                                    const Uncertain& by_clip_per_s) {
  const Uncertain ratio = by_rig_per_s / by_clip_per_s;
  const double u = std::hypot(ratio.u(), kCrystal);
  double total = 0.0, mean = 0.0, squares = 0.0;
  bool contradicts = true;
  for (const Clock& clock : kClocks) {
    const double in_u = (ratio.value() * clock.pace - 1.0) / u;
    const double share = clock.share * std::exp(-0.5 * in_u * in_u);
    contradicts = contradicts && std::abs(in_u) > 3.0;
    total += share;
    mean += share * (clock.pace - 1.0);
    squares += share * std::pow(clock.pace - 1.0, 2);
  }
  if (contradicts) return std::nullopt;
  mean /= total;
  const double variance = std::max(0.0, squares / total - mean * mean);
  return Uncertain::from(
      1.0 + mean, std::sqrt(variance + kCrystal * kCrystal), "clip.clock", SourceKind::Shared);
}

std::optional<Uncertain> rate_by_rig(const Uncertain& by_rig_per_s,
                                     const Uncertain& by_clip_per_s) {
  const std::optional<Uncertain> pace = clip_clock(by_rig_per_s, by_clip_per_s);
  if (!pace) return std::nullopt;
  return by_rig_per_s * *pace;
}

}  // namespace swingloss
