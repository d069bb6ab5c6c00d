// SPDX-License-Identifier: Apache-2.0
/// \file specimen.h
/// One row of specimens.csv.
#pragma once

#include "ranking/bar.h"

#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// A bar as its maker describes it. Lengths in millimetres as in the file.
struct Specimen {
  int row = 0;  ///< line in the file, header is 1
  std::string id, material, condition, orientation, rig, clip;
  std::vector<std::string> photos;
  std::optional<double> thickness_mm;  ///< h, along the notch
  std::optional<double> width_mm;      ///< b_N, what remains under the notch
  std::string notch;
  BreakType break_type = BreakType::Unknown;  ///< as typed
  std::optional<double> energy_J, energy_u_J;
  Limit limit = Limit::None;
  std::optional<double> mass_g;
  std::string made_on, tested_on, note;
};

}  // namespace swingloss
