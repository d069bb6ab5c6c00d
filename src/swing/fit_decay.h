// SPDX-License-Identifier: Apache-2.0
/// \file fit_decay.h
/// Losses, zero and natural frequency from free swings.
#pragma once

#include "core/angle_track.h"
#include "core/remark.h"
#include "core/result.h"
#include "swing/swing_law.h"

#include <array>
#include <optional>
#include <vector>

namespace swingloss {

/// Which terms of the loss a fit may use.
struct LossTerms {
  bool dry = true, linear = true, quadratic = true;
  [[nodiscard]] std::array<bool, 3> flags() const { return {dry, linear, quadratic}; }
};

/// What the data say about one term.
struct TermEvidence {
  bool supported = false;  ///< in the set of terms that was chosen
  double t_ratio = 0.0;    ///< value over u in the chosen fit; 0 when it is not in it
  /// Bayes information criterion [Schwarz1978] without the term less that with it, other terms
  /// as chosen; above 6 is strong evidence for the term, below 0 evidence against.
  double bic_gain = 0.0;
  /// Likelihood-ratio statistic of the same two sets, 2 ln(L with / L without), for residuals
  /// with the memory found; and how often a term that is not there would reach it (half a
  /// chi-square of one degree of freedom, since no term goes below zero [SelfLiang1987]).
  double likelihood_ratio = 0.0, chance = 1.0;
};

struct DecayOptions {
  /// Nothing: the set with the least criterion is chosen.
  std::optional<LossTerms> terms;
  double max_step_s = 0.002;
};

/// One free decay explained.
struct FreeDecay {
  Uncertain zero_rad;           ///< centre of the motion, in the track's own angles
  Uncertain natural_rad_per_s;  ///< in the track's time
  UncertainLaw law;             ///< terms that are not supported are exactly 0
  LossTerms terms;              ///< as chosen or asked
  TermEvidence dry, linear, quadratic;
  int half_swings = 0;  ///< turning points in the stretch that was fitted
  double first_amplitude_rad = 0.0, last_amplitude_rad = 0.0;
  Uncertain first_loss_fraction;  ///< of the energy, in one half swing from the first amplitude
  double scatter_rad = 0.0;       ///< rms of the residuals
  double largest_residual_rad = 0.0;  ///< of the samples used
  double residual_correlation = 0.0;  ///< of residuals that are neighbours in time, -1 to 1
  double scatter_in_u = 0.0;
  double inefficiency = 1.0;  ///< of the residuals: far above 1, the law misses something
  std::optional<double>
      stopped_s;  ///< when the arm came to rest for good, if the clip shows it
  std::optional<double> rest_off_zero_rad;           ///< where it stopped, from zero
  std::vector<double> t_s, theta_rad, residual_rad;  ///< of the samples used; from zero
  Remarks remarks;  ///< "stops-dead", "residuals-structured", "later-swings-not-used", ...
};

/// Fits SwingLaw to the longest stretch of free swinging in a track. A start by hand costs the
/// first half swing: only a release from a hold is taken at its word. Loss terms are kept at 0
/// or above, without a prior. The residuals' memory (residual_noise.h) enters both the
/// uncertainties and the choice of terms, as fewer effective samples; the scatter of whole
/// periods (decay_covariance.h) widens the uncertainties where the law misses something.
///
/// \return the decay, or Failure: too-few-samples, no-swing, too-few-swings (fewer than three
///         turning points), fit-failed
[[nodiscard]] Result<FreeDecay> fit_decay(const AngleTrack& track,
                                          const DecayOptions& options = {});

/// One law from several free swings of one rig: the terms that any of them supports are fitted
/// to each, and averaged by their inverse covariances; where they scatter more than that, the
/// covariance is widened in proportion [Birge1932]. Source `rig.friction[k]`, shared.
///
/// \throws std::logic_error for no tracks
/// \return the law, or the Failure of the first track that has one
[[nodiscard]] Result<UncertainLaw> law_of_free_swings(const std::vector<AngleTrack>& tracks,
                                                      const DecayOptions& options = {});

}  // namespace swingloss
