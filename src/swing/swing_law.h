// SPDX-License-Identifier: Apache-2.0
/// \file swing_law.h
/// The equation of motion, without units.
#pragma once

#include "swing/pendulum.h"

#include <Eigen/Core>

namespace swingloss {

/// Loss of a pendulum made dimensionless by its own moment M and natural frequency w0. With
/// time in 1/w0 (s = w0 t) every pendulum obeys
///
///   theta'' = -sin theta - dry sgn(theta') - linear theta' - quadratic theta' |theta'|
///
/// Angles fix these numbers without any clock: they are the same in slow motion.
struct SwingLaw {
  double dry = 0.0;        ///< tau_c / M, >= 0
  double linear = 0.0;     ///< k1 w0 / M, >= 0
  double quadratic = 0.0;  ///< k2 w0^2 / M, >= 0

  [[nodiscard]] Eigen::Vector3d vector() const { return {dry, linear, quadratic}; }
  static SwingLaw from(const Eigen::Vector3d& terms) { return {terms[0], terms[1], terms[2]}; }
};

/// The same with the doubt of each term.
struct UncertainLaw {
  Uncertain dry, linear, quadratic;
  [[nodiscard]] SwingLaw law() const {
    return {dry.value(), linear.value(), quadratic.value()};
  }
};

/// Angular frequency of small swings, sqrt(g / l).
[[nodiscard]] Uncertain natural_rad_per_s(const Pendulum& pendulum);

/// Moment of inertia about the axle, M l / g.
[[nodiscard]] Uncertain inertia_kg_m2(const Pendulum& pendulum);

/// Torques to dimensionless terms; the pendulum's own doubts enter by their names.
[[nodiscard]] UncertainLaw law_of(const FrictionModel& friction, const Pendulum& pendulum);

/// Dimensionless terms to torques.
[[nodiscard]] FrictionModel friction_of(const UncertainLaw& law, const Pendulum& pendulum);

}  // namespace swingloss
