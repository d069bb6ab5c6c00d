// SPDX-License-Identifier: Apache-2.0
/// \file measure_swing.h
/// From an angle track to the physics of the swing.
#pragma once

#include "core/result.h"
#include "swing/measurement.h"

namespace swingloss {

struct SwingOptions {
  /// Longest step of the integration. At w0 = 5 rad/s the path is off by 2e-9 rad after ten
  /// swings (tests/swing/swing_path_test.cc).
  double max_step_s = 0.002;
  /// Hanging rest in the track's own angles as known from elsewhere (another clip of the same
  /// camera, a plumb line). Weighed against what this clip shows; nothing: the clip alone.
  std::optional<Uncertain> zero_rad;
};

/// Finds the fall, the blow and what came after, and fits the pendulum's law to fall and rise
/// at once: zero, release, w0, losses, rise and the view's doubts share one least-squares
/// problem (joint_fit.h), so that the law itself tells tilt from swing. What joins fall and
/// rise, the blow, is not modelled: neither the rise nor the release leans on it.
///
/// Identifiable from: a hold, the fall and the rise of one arc give release, rise and w0, and
/// zero to about the scatter of a sample; later swings or a rest stretch fix zero and losses;
/// without them and without the rig's friction, W_f carries a wide prior (a few per cent of the
/// energy) and says so. Short arcs leave the view's doubts wide, unless a clip from the same
/// camera place has told the view already (tracking/recall_view.h).
///
/// Sources of uncertainty: `tracking[k]`, `tracking.hold` (own); `zero`, each doubt of the
/// view, `friction.*` where nothing else is known of the losses (shared); and those of the
/// pendulum by their own names.
///
/// Outcomes. FreeSwing: no drop of energy at the bottom beyond 3 u and half a per cent, and u
/// small enough to say so. NotBroken: stopped or thrown back; absorbed_J is right-censored at
/// what was available. Unclear: a remark of severity Refusal says why.
/// Unclear are also a fall or rise of which a good part in a row is not on the swing
/// (`swing-in-part`) and a swing that the arm comes to by a larger one that no pendulum makes
/// (`larger-swing-before`): slow motion that begins in the fall. Where the speed changes after
/// the first rise, the track is used up to there (speed_change.h).
///
/// \param track     at least a few tens of samples; in any zero, either direction
/// \param pendulum  the rig; nullptr: angles only, no energy
/// \return the measurement (which may be Unclear with the cause as a remark), or Failure when
///         nothing can be said at all: too-few-samples, no-swing
///
/// Deterministic. 140 samples take about 0.02 s on one core, 400 about 0.06 s.
/// Accuracy: tests/swing/measure_swing_test.cc.
Result<SwingMeasurement> measure_swing(const AngleTrack& track,
                                       const Pendulum* pendulum,
                                       const SwingOptions& options = {});

}  // namespace swingloss
