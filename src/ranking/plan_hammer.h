// SPDX-License-Identifier: Apache-2.0
/// \file plan_hammer.h
/// Which hammer, let go from how high, suits an expected energy.
#pragma once

#include "core/uncertain.h"

#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// A pendulum as far as planning needs it. Angles from hanging rest.
struct Hammer {
  std::string name;
  Uncertain moment_Nm;
  double release_most_rad = 0.0;  ///< highest release: the latch, or what the rig allows
  double u_release_rad = 0.0;     ///< of the release angle, standard uncertainty
  double u_rise_rad = 0.0;        ///< of the rise angle
  double u_zero_rad = 0.0;        ///< of hanging rest: adds to the release, takes from the rise
  std::optional<Uncertain> friction_J;    ///< loss of one swing, taken off; nothing: none
  std::optional<double> strike_radius_m;  ///< axle to the line of the blow
};

/// The part of its energy that a hammer should lose: 10 to 80 % [ISO13802, value from memory].
struct EnergyWindow {
  double low = 0.10, high = 0.80;
};

/// One release angle with an expected energy.
struct ReleaseRow {
  double release_rad = 0.0;
  double available_J = 0.0;    ///< M (1 - cos alpha), less friction
  double used_fraction = 0.0;  ///< expected / available; above 1 the bar holds
  bool in_window = false;
  std::optional<double> rise_rad;  ///< absent: the hammer would not pass
  std::optional<Uncertain>
      absorbed_J;  ///< the expected energy with the uncertainty it would have
  std::optional<double> impact_speed_m_per_s;  ///< sqrt(2 g R (1 - cos alpha))
};

/// u(W) as a function of the release angle, for one expected energy:
///
///   W = M (cos beta - cos alpha) - friction,
///   dW = (cos beta - cos alpha) dM + M sin(alpha) d alpha - M sin(beta) d beta
///
/// \param expected_J     > 0
/// \param releases_rad   each above 0 and up to the hammer's highest
/// \throws InputError   naming what is out of range
[[nodiscard]] std::vector<ReleaseRow> plan_release(const Hammer& hammer,
                                                   double expected_J,
                                                   const std::vector<double>& releases_rad,
                                                   const EnergyWindow& window = {});

/// What one hammer makes of a range of expected energies.
struct HammerChoice {
  std::string name;
  double available_J = 0.0;  ///< from its highest release
  bool suits = false;        ///< some release has the whole range inside the window
  bool recommended = false;  ///< the one to take
  /// Releases at which the whole range is inside the window, lowest and highest.
  std::optional<double> release_low_rad, release_high_rad;
  double relative_u = 0.0;  ///< of the middle of the range, from the highest suitable release
  std::string words;        ///< why it suits or not, one sentence
};

/// All hammers against one range of energies, in the order given. Recommended is, of those that
/// suit, the one with most energy, as the standards ask [ISO13802, rule from memory].
/// \param expected_low_J,expected_high_J  0 < low <= high
/// \throws InputError  naming what is out of range
[[nodiscard]] std::vector<HammerChoice> choose_hammer(const std::vector<Hammer>& hammers,
                                                      double expected_low_J,
                                                      double expected_high_J,
                                                      const EnergyWindow& window = {});

}  // namespace swingloss
