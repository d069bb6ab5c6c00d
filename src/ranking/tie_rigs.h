// SPDX-License-Identifier: Apache-2.0
/// \file tie_rigs.h
/// Bringing two instruments to one scale by a material broken on both.
#pragma once

#include "core/remark.h"
#include "ranking/bar.h"
#include "ranking/budget.h"

#include <string>
#include <vector>

namespace swingloss {

/// One rig brought to the scale of another.
struct RigTie {
  std::string rig, base_rig;  ///< values of `rig` are multiplied to read as on `base_rig`
  std::string reference;      ///< the group that both broke: "Norvel / as-made / flat"
  int n = 0, n_base = 0;      ///< plain values of the reference on each
  double factor = 1.0;
  double u_factor = 0.0;            ///< from the scatter of the reference bars on both rigs
  double degrees_of_freedom = 0.0;  ///< of u_factor
};

/// The rig on whose scale the values of `rig` are: itself where it is not tied.
[[nodiscard]] std::string scale_of(const std::string& rig, const std::vector<RigTie>& ties);

/// Bars on one scale, in the order given.
struct TiedBars {
  std::vector<Bar> bars;
  std::vector<RigTie> ties;
  Remarks remarks;
};

/// Multiplies the values of every rig by (reference mean on the base rig) / (reference mean on
/// this rig). The base rig is the one with most bars of the reference, the first among equals.
///
/// A rig's moment enters its reference bars and its other bars alike, so that it cancels; what
/// takes its place is the base rig's moment and the tie itself, a shared source "tie RIG" of
/// all bars of the rig, with u and degrees of freedom from the scatter of the reference bars.
/// Where the reference was broken in several conditions or orientations, the one with most
/// bars on both rigs counts. Reference bars of a tied rig are left out of the ranking: their
/// mean is the base rig's by construction.
///
/// Ignores: a tie that is not a factor (a wrong zero adds, it does not multiply).
/// \param material  the reference, on two or more rigs, two or more plain values each; other
///                  rigs stay as they are, with a remark "rig-not-tied"
[[nodiscard]] TiedBars tie_rigs(const std::vector<Bar>& bars,
                                Quantity quantity,
                                const std::string& material);

}  // namespace swingloss
