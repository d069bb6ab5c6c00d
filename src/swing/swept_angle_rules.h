// SPDX-License-Identifier: Apache-2.0
/// \file swept_angle_rules.h
/// Friction by the published rules, which share it out by the angle swept.
#pragma once

#include "swing/swing_law.h"

#include <optional>

namespace swingloss {

/// The loss of a free swing from the release angle, as the standards measure it [J].
struct FreeSwingLoss {
  double pointer_J = 0.0;  ///< that of a drag pointer; 0 when nothing is dragged
  double bearing_J = 0.0;  ///< bearings and air, one half swing
};

/// Angles of the free swings behind FreeSwingLoss and of the bar's swing [rad].
struct SweptAngles {
  double release_rad = 0.0;       ///< alpha
  double rise_rad = 0.0;          ///< beta, after the bar
  double free_pointer_rad = 0.0;  ///< beta_1, free swing dragging the pointer
  double free_rad = 0.0;          ///< beta_2, free swing without it
};

/// p beta / beta_1 + p1 (alpha + beta) / (alpha + beta_2) [ISO148-2] (from memory; check
/// against the standard).
[[nodiscard]] double swept_loss_iso148_J(const FreeSwingLoss& loss, const SweptAngles& angles);

/// (E_A - E_B/2) beta/beta_max + E_B/2 [ASTM_D256] (from memory), with E_A = pointer + bearing
/// and E_B = bearing.
[[nodiscard]] double swept_loss_d256_J(const FreeSwingLoss& loss, double rise_over_free_rise);

/// 1/2 (W_AB + (a_R/a_0)(W_AB + 2 W_P)) [ISO13802] (from memory), with W_AB = bearing and
/// W_P = pointer. The same algebra as the two above when alpha = beta_1 = beta_2.
[[nodiscard]] double swept_loss_iso13802_J(const FreeSwingLoss& loss, double rise_over_release);

/// The rule without a pointer, fed with the free half swing that the torque model predicts from
/// this release: p1 (alpha + beta) / (alpha + beta_2), p1 = M (cos beta_2 - cos alpha). Shown
/// beside friction_work_J(); their difference is what the rule's proportion leaves out.
///
/// \param rise_rad  nothing: the fall alone, beta = 0
/// \return nothing when friction stops the free swing before it turns
[[nodiscard]] std::optional<Uncertain> swept_friction_J(
    const Uncertain& moment_Nm,
    const UncertainLaw& law,
    const Uncertain& release_rad,
    const std::optional<Uncertain>& rise_rad);

}  // namespace swingloss
