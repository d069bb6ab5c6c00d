// SPDX-License-Identifier: Apache-2.0
/// \file made_rigs.h
/// The rig of the made clips as its owner would know it.
#pragma once

#include "swing/made_clip.h"
#include "swing/pendulum.h"

#include <random>

namespace swingloss::test {

inline constexpr double kMadeMoment_Nm = 3.937;

/// Constants of MadeRig{}: exact moment, length to 0.03 %; friction as true, or not known.
inline Pendulum made_pendulum(bool friction_known) {
  const MadeRig rig;
  const double w0 = rig.natural_rad_per_s;
  Pendulum p;
  p.moment_Nm = Uncertain::from(kMadeMoment_Nm, 0.0, "rig.moment", SourceKind::Shared);
  p.gravity_m_per_s2 = Uncertain::exact(9.80665);
  p.reduced_length_m =
      Uncertain::from(9.80665 / (w0 * w0), 1e-4, "rig.reduced-length", SourceKind::Shared);
  p.strike_radius_m = Uncertain::exact(0.4);
  if (!friction_known) return p;
  const auto term = [](double value, const char* source) {
    return Uncertain::from(value, 0.02 * value, source, SourceKind::Shared);
  };
  p.friction = FrictionModel{
      term(rig.law.dry * kMadeMoment_Nm, "rig.friction-dry"),
      Uncertain(),
      term(rig.law.quadratic * kMadeMoment_Nm / (w0 * w0), "rig.friction-quadratic")};
  return p;
}

/// The same with friction, its length as its owner may have found it: off by a draw of its u.
inline Pendulum drawn_pendulum(std::mt19937_64& draws) {
  Pendulum rig = made_pendulum(true);
  std::normal_distribution<double> off(0.0, rig.reduced_length_m.u());
  rig.reduced_length_m = Uncertain::from(rig.reduced_length_m.value() + off(draws),
                                         rig.reduced_length_m.u(),
                                         "rig.reduced-length",
                                         SourceKind::Shared);
  return rig;
}

}  // namespace swingloss::test
