// SPDX-License-Identifier: Apache-2.0
/// \file rig_fields.h
/// The quantities of a rig file: their plausible sizes, usual slips and customary doubts.
#pragma once

#include "core/uncertain.h"

#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// A unit that people write by mistake: the number times `factor` would be right.
struct UnitSlip {
  const char* unit = nullptr;
  double factor = 0.0;
};

/// One quantity of the file.
struct QuantityField {
  const char* name = nullptr;    ///< key; ends in its unit
  const char* source = nullptr;  ///< of its u: "rig.mass"
  const char* meaning = nullptr;
  double low = 0.0, high = 0.0;  ///< of a pendulum that fits through a door
  double customary_u = 0.0;      ///< for a plain number; relative, or absolute where so marked
  bool u_is_absolute = false;
  bool u_matters = true;  ///< false: nothing is computed from it, so no u is asked for
  std::vector<UnitSlip> slips;
};

/// The field of that name. \throws std::logic_error when there is none
[[nodiscard]] const QuantityField& quantity_field(const std::string& name);

/// Why a number cannot be this quantity, and what was probably meant; nothing when it can.
struct Implausible {
  std::string wanted;  ///< "0.03 to 2 m (...)"
  std::string next;    ///< "Did you mean 365 mm (write 0.365)?"
};
[[nodiscard]] std::optional<Implausible> implausible(const QuantityField& field, double value);

/// Its u when none was given.
[[nodiscard]] double customary_u(const QuantityField& field, double value);

/// All keys that a rig file may have, outermost level.
[[nodiscard]] std::vector<std::string> rig_keys();

}  // namespace swingloss
