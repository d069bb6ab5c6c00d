// SPDX-License-Identifier: Apache-2.0
/// \file clip_problem.h
/// From what was found in a clip to the fit that explains it.
#pragma once

#include "swing/joint_fit.h"
#include "swing/oriented_track.h"

#include <optional>

namespace swingloss {

/// How the samples of one fall are handed to the fit.
struct ClipPlan {
  Fall fall;                    ///< with side +1
  bool one_piece = false;       ///< a free swing: no break at the bottom
  bool after = true;            ///< also fit what followed: the rise, or the rebound
  double until_s = 0.0;         ///< last time used after the bottom
  bool use_hold = true;         ///< its mean speaks for the release angle
  std::vector<FitLevel> rests;  ///< those that speak for zero
  /// When the arm passed hanging rest before and after the blow; from the last fit.
  double fall_bottom_s = 0.0, rise_bottom_s = 0.0;
};

/// Closer than this to hanging rest the bar may be in touch with the hammer [rad].
inline constexpr double kContact_rad = 0.052;

/// Where the fit is to start from; by default what the search found.
struct ClipStart {
  double zero_rad = 0.0, natural_rad_per_s = 0.0;
  SwingLaw law;
  Piece fall, after;
};

[[nodiscard]] ClipPlan first_plan(const Fall& fall);
[[nodiscard]] ClipStart first_start(const FallsFound& found,
                                    const Fall& fall,
                                    const UncertainLaw& law_prior);

/// Points, levels and starting values. Left out: samples within 0.6 of an interval of the blow
/// or within kContact_rad of hanging then (blur and a jump of speed mix there), those of the
/// moments in which a hand may still be at the arm (1.2 intervals about the release), and all
/// that belongs to other falls.
[[nodiscard]] JointProblem problem_of(const OrientedTrack& track,
                                      const ClipPlan& plan,
                                      const ClipStart& start,
                                      const UncertainLaw& law_prior);

/// Where the next fit of the same clip can start.
[[nodiscard]] ClipStart start_from(const JointProblem& problem, const JointFit& fit);

/// The passes through hanging rest, from the starting values of a problem.
void set_bottoms(const ClipStart& start, ClipPlan& plan);

/// Mean of a stretch without motion, with a u that does not believe in the independence of
/// samples that agree better than their own u allows: what the same picture, tracked twice,
/// gives is the same error twice.
[[nodiscard]] FitLevel level_of(const OrientedTrack& track, const StaticStretch& still);

/// A hold, as what piece 0 fell from.
[[nodiscard]] FitLevel hold_level(const OrientedTrack& track, const StaticStretch& still);

/// A rest, as zero: it may be anywhere within the dead band of dry friction.
/// \param dead_band_rad  half width
[[nodiscard]] FitLevel rest_level(const OrientedTrack& track,
                                  const StaticStretch& still,
                                  double dead_band_rad);

/// Stretches of rest near the bottom that may speak for zero: not those after a bar that did
/// not break, against which the hammer may lean.
[[nodiscard]] std::vector<std::size_t> possible_rests(const OrientedTrack& track,
                                                      const FallsFound& found,
                                                      const Fall& fall);

}  // namespace swingloss
