// SPDX-License-Identifier: Apache-2.0
#include "swing/swing_law.h"

namespace swingloss {

Uncertain natural_rad_per_s(const Pendulum& pendulum) {
  return sqrt(pendulum.gravity_m_per_s2 / pendulum.reduced_length_m);
}

Uncertain inertia_kg_m2(const Pendulum& pendulum) {
  return pendulum.moment_Nm * pendulum.reduced_length_m / pendulum.gravity_m_per_s2;
}

UncertainLaw law_of(const FrictionModel& friction, const Pendulum& pendulum) {
  const Uncertain natural = natural_rad_per_s(pendulum);
  const Uncertain& moment_Nm = pendulum.moment_Nm;
  return {friction.dry_Nm / moment_Nm,
          friction.linear_Nms * natural / moment_Nm,
          friction.quadratic_Nms2 * natural * natural / moment_Nm};
}

FrictionModel friction_of(const UncertainLaw& law, const Pendulum& pendulum) {
  const Uncertain natural = natural_rad_per_s(pendulum);
  const Uncertain& moment_Nm = pendulum.moment_Nm;
  return {law.dry * moment_Nm,
          law.linear * moment_Nm / natural,
          law.quadratic * moment_Nm / (natural * natural)};
}

}  // namespace swingloss
