// SPDX-License-Identifier: Apache-2.0
/// \file capture_ratio.h
/// Slow motion, or a reduced length that is wrong?
#pragma once

#include "core/remark.h"
#include "core/uncertain.h"

#include <optional>

namespace swingloss {

/// How many times slower than it was taken the clip plays.
struct CaptureRatio {
  Uncertain ratio = Uncertain::exact(1.0);
  /// 1, or slow motion as cameras and editors make it. Else the clip's time or the rig's
  /// reduced length is wrong and nobody knows which: `ratio` then has, beside its own u, the
  /// source `clip.rate-or-length`, |ratio - 1| / sqrt(2): one or the other of two values.
  bool is_understood = true;
  std::optional<Remark> remark;  ///< "slow-motion" (note), "time-or-length-off" (warning)
};

/// Whether a rate of capture over a rate of play is one of those in use (common practice, no
/// source): 2 to 40 times slower; 60, 120 and 240 a second shown at 25 or 24; 24, 25 and 30
/// turned into the next; each also the other way round. Between 1 and 2 the list is short on
/// purpose: there a wrong length looks like a ratio of rates.
///
/// \param u  standard uncertainty of `ratio`; three of it are allowed, and one in a thousand
/// for
///           rates that are not whole numbers (30 000 / 1001)
[[nodiscard]] bool is_usual_rate_ratio(double ratio, double u);

/// \param by_rig_per_s   natural rate of small swings by the rig's reduced length [rad/s], > 0
/// \param by_clip_per_s  the same in the clip's time, > 0
[[nodiscard]] CaptureRatio capture_ratio(const Uncertain& by_rig_per_s,
                                         const Uncertain& by_clip_per_s);

/// By what factor a clip's clock changes rates: the natural rate in its time over the true one.
/// A clock is good to the camera's crystal; but what a container calls 30 a
/// second may be 30 000 / 1001, or that 30: each of the three is as likely as it is common,
/// times what the clip's own rate says of it (Bayes' theorem). Mean and deviation of these,
/// source `clip.clock`; nothing where the clip contradicts them all by more than 3 u.
///
/// \param by_rig_per_s, by_clip_per_s  as above
[[nodiscard]] std::optional<Uncertain> clip_clock(const Uncertain& by_rig_per_s,
                                                  const Uncertain& by_clip_per_s);

/// The rig's w0 in the clip's time, for a fit that knows it beforehand; nothing where
/// clip_clock() finds none (slow motion, or a wrong length).
///
/// \param by_rig_per_s, by_clip_per_s  as above, the latter of the clip alone
[[nodiscard]] std::optional<Uncertain> rate_by_rig(const Uncertain& by_rig_per_s,
                                                   const Uncertain& by_clip_per_s);

}  // namespace swingloss
