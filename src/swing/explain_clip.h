// SPDX-License-Identifier: Apache-2.0
/// \file explain_clip.h
/// One fit that explains a clip, and how far into the clip it reaches.
#pragma once

#include "core/remark.h"
#include "core/result.h"
#include "swing/clip_problem.h"

#include <optional>
#include <vector>

namespace swingloss {

/// The fit, with all that went into it.
struct Explained {
  OrientedTrack track;  ///< the fall from the positive side; times as used
  FallsFound found;
  ClipPlan plan;
  JointProblem problem;
  JointFit fit;
  std::vector<Uncertain> values;  ///< the parameters, ParameterPlaces
  Remarks remarks;
  double u_rate_ratio = 0.0;  ///< of the rate of steady times, where those were used

  [[nodiscard]] ParameterPlaces places() const { return ParameterPlaces(problem); }
  [[nodiscard]] UncertainLaw law() const;
};

/// What is asked of one clip.
struct ExplainRequest {
  OrientedTrack track;
  FallsFound found;
  std::size_t fall = 0;  ///< index into found.falls; its side is +1
  UncertainLaw law_prior;
  std::optional<Uncertain> natural_prior;  ///< w0 as known apart from the track, in its time
  std::vector<FitLevel> more_levels;  ///< a latch, a zero from elsewhere; in oriented angles
  std::size_t most_passes = 12;       ///< later swings to use at most
  double max_step_s = 0.002;
};

/// Fits fall and rise apart, joined only by the pendulum's constants. Then, while the law
/// carries on to hold, lengthens the stretch after the bottom: later swings fix zero, w0 and
/// losses. It stops before a hand, a second contact or a cut: where what is added does not fit
/// or moves the angles that matter.
///
/// Times: where the samples' own waver about a steady rate, both are tried, and the more likely
/// is used. A hold or a rest that contradicts the motion is left out, with a remark.
[[nodiscard]] Result<Explained> explain_clip(const ExplainRequest& request);

/// The same clip as one swing without a blow.
[[nodiscard]] Result<Explained> explain_as_free(const ExplainRequest& request,
                                                const Explained& apart);

}  // namespace swingloss
