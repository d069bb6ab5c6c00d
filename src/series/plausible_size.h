// SPDX-License-Identifier: Apache-2.0
/// \file plausible_size.h
/// Catches sizes that were most likely typed in another unit.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// Another unit that people type by mistake.
struct SizeSlip {
  std::string unit;     ///< "metres"
  double factor = 1.0;  ///< of the wanted unit in one of these
};

/// What a bar's size, energy or mass can be. Limits are generous (common practice, no source):
/// they are to catch slips of unit by 1000, not to judge bars.
struct PlausibleSize {
  double low = 0.0, high = 0.0;
  std::string unit;             ///< of the limits: "mm"
  std::vector<SizeSlip> slips;  ///< tried in this order
};

[[nodiscard]] const PlausibleSize& plausible_length_mm();  ///< section: 0.5 to 60 mm
[[nodiscard]] const PlausibleSize& plausible_energy_J();   ///< 0.0005 to 1000 J
[[nodiscard]] const PlausibleSize& plausible_mass_g();     ///< 0.05 to 5000 g

/// Why `x` cannot be right, as a next step: "Did you mean 8 mm (0.008 metres)?"; nothing when
/// it is plausible.
[[nodiscard]] std::optional<std::string> size_doubt(double x, const PlausibleSize& plausible);

/// "a number of mm from 0.5 to 60"
[[nodiscard]] std::string wanted_size(const PlausibleSize& plausible);

}  // namespace swingloss
