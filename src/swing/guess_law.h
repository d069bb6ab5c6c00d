// SPDX-License-Identifier: Apache-2.0
/// \file guess_law.h
/// A first idea of where the pendulum hangs and how fast it swings, without knowing when.
#pragma once

#include "core/angle_track.h"
#include "core/result.h"
#include "swing/local_motion.h"

#include <vector>

namespace swingloss {

/// Starting values for a fit.
struct LawGuess {
  double zero_rad = 0.0;            ///< hanging rest in the samples' own angles
  double natural_rad_per_s = 0.0;   ///< w0 in the samples' own time
  std::vector<LocalMotion> motion;  ///< of the samples, on the scale of a seventh of a period
};

/// Local accelerations regressed on local angles: in free motion
///
///   theta'' = -p sin theta + q cos theta,    zero = atan2(q, p),   w0^2 = hypot(p, q)
///
/// whatever the energy is, so that a blow, a lift or a release do not matter as long as free
/// motion makes up a good part of what moves. Robust: iteratively reweighted (Cauchy), started
/// from the quickest large leg. Where lifts by hand make up most of what moves (a recording of
/// several tests), at least three large legs must follow the one law, or two when the arm was
/// let go of from a hold.
///
/// \return the guess, or Failure `no-swing`: nothing moves, or not as a pendulum does
[[nodiscard]] Result<LawGuess> guess_law(const std::vector<AngleSample>& samples);

}  // namespace swingloss
