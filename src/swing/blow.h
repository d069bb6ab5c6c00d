// SPDX-License-Identifier: Apache-2.0
/// \file blow.h
/// What happened at the bottom: the energy that went, and whether a bar took it.
#pragma once

#include "swing/explain_clip.h"
#include "swing/measurement.h"

#include <optional>

namespace swingloss {

/// Kinetic energy over M just before and just after the bottom, by the fitted law.
struct BottomEnergies {
  Uncertain before, after;
  [[nodiscard]] Uncertain drop() const { return before - after; }
};

/// \return nothing without a fitted rise
[[nodiscard]] std::optional<BottomEnergies> bottom_energies(const Explained& apart);

/// Whether a drop is a blow's, nobody's, or cannot be told.
enum class DropVerdict { Blow, None, CannotTell };

/// Blow: more than 3 u and more than least_blow_fraction() of the energy of the fall. None:
/// less, and 3 u below 3 % of it.
[[nodiscard]] DropVerdict judge_drop(const Explained& apart, const BottomEnergies& energies);

/// Half a per cent; where the law does not describe the motion to within its noise (scatter
/// and memory of the residuals both above 3), what the later passes differ by in their losses.
[[nodiscard]] double least_blow_fraction(const Explained& apart);

/// Energy by speeds: fall and rise near the bottom, each fitted alone with zero, losses, w0 and
/// view given (their doubts carried along), give the angular speeds at the bottom without the
/// hold and without either turning point; 1/2 I (w1^2 - w2^2) with I from the rig.
///
/// \param capture_rate_ratio  the rig's w0 over the clip's where the clip's time is not true,
///                            exactly 1 where it is
/// \return nothing with fewer than four samples on a side
[[nodiscard]] std::optional<Uncertain> absorbed_by_speeds_J(
    const Explained& apart, const Pendulum& pendulum, const Uncertain& capture_rate_ratio);

}  // namespace swingloss
