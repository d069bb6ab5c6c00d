// SPDX-License-Identifier: Apache-2.0
/// \file measurement.h
/// What one swing says about one bar.
#pragma once

#include "core/angle_track.h"
#include "core/remark.h"
#include "core/uncertain.h"
#include "swing/pendulum.h"

#include <optional>
#include <string>
#include <vector>

namespace swingloss {

enum class Outcome { Broken, NotBroken, FreeSwing, Unclear };

/// "broken", "not-broken", "free-swing", "unclear", as files spell it.
[[nodiscard]] const char* name_of(Outcome outcome);

enum class Censoring { None, Right };

/// Energy from the speeds just before and just after the blow, 1/2 I (w1^2 - w2^2): needs true
/// time, which the height method does not: absent where the clip's rate or the rig's length is
/// in doubt (swing/capture_ratio.h).
struct SpeedDropCheck {
  Uncertain absorbed_J;
  bool agrees = false;  ///< within 3 combined standard uncertainties of the height method
};

/// The law that was fitted, for drawing and for residuals. Angles as in SwingMeasurement: from
/// hanging rest, positive on the release side; those of the track are
/// zero_rad + direction * theta_rad (and what the view's doubts shift, doubt_scores).
struct SwingCurve {
  std::vector<double> t_s, theta_rad;     ///< fitted angle, dense
  std::vector<double> residual_rad;       ///< measured minus fitted at each used sample
  std::vector<std::size_t> used_samples;  ///< indices into the track
};

/// Times of the events [s, clip time], absent where the clip does not show them.
struct SwingEvents {
  std::optional<double> release_s, blow_s, turn_s;
};

/// Everything measured from one track. Absent means: not measured, and a remark says why.
/// Angles are from hanging rest, positive on the release side.
struct SwingMeasurement {
  Outcome outcome = Outcome::Unclear;
  std::optional<Uncertain> release_angle_rad;
  std::optional<Uncertain>
      rise_angle_rad;  ///< first turning point after the blow, as a positive rise on the far
                       ///< side; negative when thrown back
  std::optional<Uncertain> zero_rad;  ///< hanging rest in the track's own angles
  double direction =
      1.0;  ///< +1: the track's angles grow toward the release side; -1: they fall
  std::optional<Uncertain> natural_rad_per_s;  ///< w0 of small swings, container time
  std::optional<Uncertain>
      absorbed_J;  ///< after friction; right-censored: the energy that was available
  Censoring censoring = Censoring::None;
  std::optional<Uncertain> raw_absorbed_J;    ///< M (cos beta - cos alpha)
  std::optional<Uncertain> friction_J;        ///< W_f on this path, model
  std::optional<Uncertain> friction_swept_J;  ///< W_f by the published swept-angle rule
  std::optional<Uncertain>
      impact_speed_m_per_s;  ///< measured w at the blow times the striking radius
  std::optional<double> textbook_speed_m_per_s;  ///< sqrt(2 g R (1 - cos alpha))
  std::optional<SpeedDropCheck> speed_drop;
  double capture_rate_ratio = 1.0;  ///< capture rate / container rate
  std::optional<FrictionModel>
      friction_fitted;            ///< from this clip's own decay, when it shows enough
  double fit_scatter_in_u = 0.0;  ///< rms of residual / u; near 1 when the samples' u is honest
  double time_jitter_s = 0.0;     ///< of the time stamps (or blur: what grows with speed), from
                                  ///< the residuals; 0 when none shows
  double residual_inefficiency =
      1.0;  ///< by how much residuals that remember their neighbours make the variance of a
            ///< mean grow, (1 + rho) / (1 - rho)
  std::vector<Uncertain>
      doubt_scores;  ///< where the motion puts each of the track's SharedDoubts, in its own
                     ///< standard deviations, in order
  SwingEvents events;
  SwingCurve curve;
  Remarks remarks;
};

}  // namespace swingloss
