// SPDX-License-Identifier: Apache-2.0
/// \file conclude.h
/// From a fit to what may be said: outcome, angles, energies, and the reasons for what is not.
#pragma once

#include "swing/explain_clip.h"
#include "swing/measurement.h"

#include <optional>

namespace swingloss {

/// Fits of one clip: fall and rise apart, and, where no blow shows, as one free swing.
struct ClipFits {
  Explained apart;
  std::optional<Explained> free;
  [[nodiscard]] const Explained& best() const { return free ? *free : apart; }
};

/// Outcome and angles, everything that needs no rig.
[[nodiscard]] SwingMeasurement angles_of(const ClipFits& fits);

/// Energies, speeds and the second opinion, where angles and outcome allow them. Adds to
/// `angles` and returns it.
[[nodiscard]] SwingMeasurement with_energies(SwingMeasurement angles,
                                             const ClipFits& fits,
                                             const Pendulum& pendulum);

}  // namespace swingloss
