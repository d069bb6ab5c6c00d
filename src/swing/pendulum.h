// SPDX-License-Identifier: Apache-2.0
/// \file pendulum.h
/// The constants of a pendulum that its physics needs.
#pragma once

#include "core/uncertain.h"

#include <optional>

namespace swingloss {

/// Loss torque on the axle: tau = -(dry sgn w + linear w + quadratic w|w|).
struct FrictionModel {
  Uncertain dry_Nm;
  Uncertain linear_Nms;
  Uncertain quadratic_Nms2;
};

/// What is known of the rig before a clip is looked at.
struct Pendulum {
  Uncertain moment_Nm;         ///< m g L: J of height per unit of (1 - cos theta)
  Uncertain reduced_length_m;  ///< l = I / (m L) = g / w0^2
  Uncertain gravity_m_per_s2;
  std::optional<Uncertain> strike_radius_m;  ///< axle to the line of the blow
  std::optional<FrictionModel>
      friction;  ///< nothing: taken from the clip itself where it shows it
  std::optional<Uncertain> release_angle_rad;  ///< where a latch fixes it; compared, not used,
                                               ///< when the clip shows it
};

}  // namespace swingloss
