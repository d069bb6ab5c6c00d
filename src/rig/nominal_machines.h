// SPDX-License-Identifier: Apache-2.0
/// \file nominal_machines.h
/// What the standards ask of a pendulum, as far as remembered.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// The families of tests that a rig can be made like.
enum class TestKind { CharpyPlastics, IzodPlastics, IzodAstm, CharpyMetals, CharpyAstmMetals };

/// The kind behind a standard's name ("ISO 179-1", "iso180", "ASTM D256", "D6110", "ISO 148-1",
/// "ASTM E23", "ISO 13802 Izod"); nothing when the name is none of these.
[[nodiscard]] std::optional<TestKind> test_kind(const std::string& made_like);

/// One size of pendulum.
struct NominalMachine {
  double capacity_J = 0.0;
  double speed_m_per_s = 0.0;
  double largest_loss_fraction = 0.0;  ///< friction in a free half swing, of the capacity
};

/// Limits of one kind. All values from memory: to be checked against the standard before
/// relying on them.
struct MachineLimits {
  std::string source;                 ///< "ISO 13802 (from memory; check against the standard)"
  std::vector<NominalMachine> sizes;  ///< empty: one rule for all, below
  double speed_low_m_per_s = 0.0, speed_high_m_per_s = 0.0;  ///< where sizes is empty
  double speed_tolerance_fraction = 0.10;
  double loss_fraction = 0.005;                           ///< where sizes is empty
  double percussion_low = -0.01, percussion_high = 0.01;  ///< (l - R) / R
  double usable_low = 0.10, usable_high = 0.80;           ///< of the capacity
};

[[nodiscard]] const MachineLimits& limits_of(TestKind kind);

/// The size whose capacity is nearest on a logarithmic scale; nothing for kinds without sizes.
[[nodiscard]] std::optional<NominalMachine> nearest_size(const MachineLimits& limits,
                                                         double capacity_J);

}  // namespace swingloss
