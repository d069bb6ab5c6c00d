// SPDX-License-Identifier: Apache-2.0
/// \file energy.h
/// Heights, speeds and what friction takes on the way.
#pragma once

#include "swing/swing_law.h"

#include <optional>

#include <Eigen/Core>

namespace swingloss {

/// Energy of the height at an angle from hanging rest, M (1 - cos theta) [J].
///
/// Angles in drawings are often counted from the horizontal instead: 60 degrees above the
/// horizontal is 150 degrees here (tests/swing/energy_test.cc).
[[nodiscard]] Uncertain height_energy_J(const Uncertain& moment_Nm, const Uncertain& angle_rad);

/// The height that was not regained, M (cos rise - cos release) [J], friction included.
[[nodiscard]] Uncertain raw_absorbed_J(const Uncertain& moment_Nm,
                                       const Uncertain& release_rad,
                                       const Uncertain& rise_rad);

/// sqrt(2 g R (1 - cos release)): what handbooks call the impact speed. Without friction, and
/// true only when the blow is at the centre of percussion, R = l.
[[nodiscard]] double textbook_speed_m_per_s(double gravity_m_per_s2,
                                            double strike_radius_m,
                                            double release_rad);

/// Speed at the bottom of one arc between the bottom and a turning point, with its derivatives
/// by the amplitude and the loss terms (PathParameter). Dimensionless: 1/2 omega^2 is the
/// kinetic energy over M.
struct BottomSpeed {
  double omega = 0.0;  ///< > 0
  Eigen::Vector4d omega_by = Eigen::Vector4d::Zero();
  double s = 0.0;  ///< time between bottom and turning point, in 1/w0
};

/// Falling from rest at `amplitude_rad`, in (0, pi). Nothing when friction stops it on the way.
[[nodiscard]] std::optional<BottomSpeed> fall_to_bottom(double amplitude_rad,
                                                        const SwingLaw& law);

/// Rising from the bottom to rest at `amplitude_rad`, in (0, pi).
[[nodiscard]] BottomSpeed rise_from_bottom(double amplitude_rad, const SwingLaw& law);

/// What friction takes, W_f, from rest at `release_rad` through the bottom to rest at
/// `rise_rad` on the far side, by integrating the loss torque along the path [J]. Between the
/// two arcs the bar may take any energy.
///
/// \param rise_rad  in (0, pi); nothing: the fall alone (the bar stopped the hammer)
/// \return nothing when friction stops the fall on its way
[[nodiscard]] std::optional<Uncertain> friction_work_J(
    const Uncertain& moment_Nm,
    const UncertainLaw& law,
    const Uncertain& release_rad,
    const std::optional<Uncertain>& rise_rad);

/// The turning point that a free swing reaches on the far side of a release, as a positive
/// angle [rad]; nothing when friction stops it before it has turned.
[[nodiscard]] std::optional<Uncertain> free_rise_rad(const UncertainLaw& law,
                                                     const Uncertain& release_rad);

}  // namespace swingloss
