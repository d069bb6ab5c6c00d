// SPDX-License-Identifier: Apache-2.0
/// \file decay_stretch.h
/// The stretch of free swinging in a track, fitted as one piece.
#pragma once

#include "core/remark.h"
#include "core/result.h"
#include "swing/joint_fit.h"
#include "swing/oriented_track.h"

#include <optional>

namespace swingloss {

/// The stretch with its fit.
struct DecayStretch {
  OrientedTrack track;
  JointProblem problem;
  JointFit fit;
  std::optional<StaticStretch> rest;  ///< where the arm stays at the end
  Remarks remarks;
};

/// Finds the stretch and fits it, swing by swing outward from its beginning, since a phase that
/// is half a swing off after fifty swings would lead a fit of all at once astray.
/// \return as fit_decay()
[[nodiscard]] Result<DecayStretch> decay_stretch(const AngleTrack& track,
                                                 const UncertainLaw& law_prior,
                                                 double max_step_s);

/// The same samples with another set of loss terms; nothing when that fails.
[[nodiscard]] std::optional<DecayStretch> refitted(const DecayStretch& stretch,
                                                   const UncertainLaw& law_prior,
                                                   double max_step);

}  // namespace swingloss
