// SPDX-License-Identifier: Apache-2.0
#include "swing/swept_angle_rules.h"

#include "core/expects.h"
#include "swing/energy.h"

namespace swingloss {

double swept_loss_iso148_J(const FreeSwingLoss& loss, const SweptAngles& angles) {
  expects(angles.free_pointer_rad > 0.0 && angles.release_rad + angles.free_rad > 0.0,
          "the angles of a free swing are not positive");
  return loss.pointer_J * angles.rise_rad / angles.free_pointer_rad +
         loss.bearing_J * (angles.release_rad + angles.rise_rad) /
             (angles.release_rad + angles.free_rad);
}

double swept_loss_d256_J(const FreeSwingLoss& loss, double rise_over_free_rise) {
  const double with_pointer_J = loss.pointer_J + loss.bearing_J;
  return (with_pointer_J - 0.5 * loss.bearing_J) * rise_over_free_rise + 0.5 * loss.bearing_J;
}

double swept_loss_iso13802_J(const FreeSwingLoss& loss, double rise_over_release) {
  return 0.5 * (loss.bearing_J + rise_over_release * (loss.bearing_J + 2.0 * loss.pointer_J));
}

std::optional<Uncertain> swept_friction_J(const Uncertain& moment_Nm,
                                          const UncertainLaw& law,
                                          const Uncertain& release_rad,
                                          const std::optional<Uncertain>& rise_rad) {
  const std::optional<Uncertain> free_rad = free_rise_rad(law, release_rad);
  if (!free_rad) return std::nullopt;
  const Uncertain swept_rad = rise_rad ? release_rad + *rise_rad : release_rad;
  return raw_absorbed_J(moment_Nm, release_rad, *free_rad) * swept_rad /
         (release_rad + *free_rad);
}

}  // namespace swingloss
