// SPDX-License-Identifier: Apache-2.0
#include "rig/nominal_machines.h"

#include "core/expects.h"

#include <cctype>
#include <cmath>

namespace swingloss {
namespace {

const std::string kMemory = " (from memory; check against the standard)";

MachineLimits charpy_plastics() {
  MachineLimits limits;
  limits.source = "ISO 13802, ISO 179-1" + kMemory;
  limits.sizes = {{0.5, 2.9, 0.04},
                  {1.0, 2.9, 0.02},
                  {2.0, 2.9, 0.01},
                  {4.0, 2.9, 0.005},
                  {5.0, 2.9, 0.005},
                  {7.5, 3.8, 0.005},
                  {15.0, 3.8, 0.005},
                  {25.0, 3.8, 0.005},
                  {50.0, 3.8, 0.005}};
  return limits;
}

MachineLimits izod_plastics() {
  MachineLimits limits;
  limits.source = "ISO 13802, ISO 180" + kMemory;
  limits.sizes = {{1.0, 3.5, 0.02},
                  {2.75, 3.5, 0.01},
                  {5.5, 3.5, 0.005},
                  {11.0, 3.5, 0.005},
                  {22.0, 3.5, 0.005}};
  return limits;
}

/// Base hammer 2.71 J, each heavier one doubles; a fall of 610 mm. D256 and D6110 alike; the
/// loss limit is not remembered and that of ISO 13802 stands in.
MachineLimits izod_astm() {
  MachineLimits limits;
  limits.source = "ASTM D256, D6110; friction and percussion ISO 13802" + kMemory;
  limits.sizes = {
      {2.71, 3.46, 0.01}, {5.42, 3.46, 0.005}, {10.84, 3.46, 0.005}, {21.68, 3.46, 0.005}};
  limits.usable_low = 0.0;
  limits.usable_high = 0.85;
  return limits;
}

MachineLimits charpy_metals() {
  MachineLimits limits;
  limits.source = "ISO 148-1, ISO 148-2" + kMemory;
  limits.speed_low_m_per_s = 5.0;
  limits.speed_high_m_per_s = 5.5;
  limits.loss_fraction = 0.005;
  // l1 = (0.995 +/- 0.005) l
  limits.percussion_low = -0.01;
  limits.percussion_high = 0.0;
  limits.usable_low = 0.0;
  return limits;
}

MachineLimits charpy_astm_metals() {
  MachineLimits limits;
  limits.source = "ASTM E23" + kMemory;
  limits.speed_low_m_per_s = 3.0;
  limits.speed_high_m_per_s = 6.0;
  limits.loss_fraction = 0.0075;
  limits.usable_low = 0.0;
  return limits;
}

}  // namespace

std::optional<TestKind> test_kind(const std::string& made_like) {
  std::string plain;
  for (const char c : made_like) {
    if (std::isalnum(static_cast<unsigned char>(c)) != 0) {
      plain += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    }
  }
  const auto has = [&](const char* part) { return plain.find(part) != std::string::npos; };
  if (has("13802")) return has("izod") ? TestKind::IzodPlastics : TestKind::CharpyPlastics;
  if (has("iso179")) return TestKind::CharpyPlastics;
  if (has("iso180")) return TestKind::IzodPlastics;
  if (has("d256") || has("d6110") || has("d4812")) return TestKind::IzodAstm;
  if (has("iso148")) return TestKind::CharpyMetals;
  if (has("e23")) return TestKind::CharpyAstmMetals;
  return std::nullopt;
}

const MachineLimits& limits_of(TestKind kind) {
  static const std::vector<MachineLimits> all = {
      charpy_plastics(), izod_plastics(), izod_astm(), charpy_metals(), charpy_astm_metals()};
  return all[static_cast<std::size_t>(kind)];
}

std::optional<NominalMachine> nearest_size(const MachineLimits& limits, double capacity_J) {
  expects(capacity_J > 0.0, "a capacity is not positive");
  std::optional<NominalMachine> nearest;
  for (const NominalMachine& size : limits.sizes) {
    const double off = std::abs(std::log(size.capacity_J / capacity_J));
    if (!nearest || off < std::abs(std::log(nearest->capacity_J / capacity_J))) nearest = size;
  }
  return nearest;
}

}  // namespace swingloss
