// SPDX-License-Identifier: Apache-2.0
#include "rig/rig_fields.h"

#include "core/expects.h"
#include "core/number_text.h"

#include <cmath>

namespace swingloss {
namespace {

const std::vector<UnitSlip>& length_slips() {
  static const std::vector<UnitSlip> slips = {{"mm", 1e-3}, {"cm", 1e-2}};
  return slips;
}

/// What balance and ruler say about the arm.
std::vector<QuantityField> fields_of_the_arm() {
  const std::vector<UnitSlip>& length = length_slips();
  const std::vector<UnitSlip> mass = {{"g", 1e-3}};
  return {
      {"mass_kg", "rig.mass", "mass of arm and hammer", 0.05, 100.0, 0.005, false, true, mass},
      {"com_m", "rig.com", "axle to the centre of mass", 0.03, 2.0, 0.005, false, true, length},
      {"moment_Nm",
       "rig.moment",
       "m g L, from weighing the arm held level",
       0.05,
       1500.0,
       0.01,
       false,
       true,
       {{"N mm", 1e-3}}},
      {"scale_reading_kg",
       "rig.scale-reading",
       "what the scale shows under the arm held level",
       0.02,
       200.0,
       0.005,
       false,
       true,
       mass},
      {"scale_radius_m",
       "rig.scale-radius",
       "axle to where the scale carries the arm",
       0.05,
       2.0,
       0.005,
       false,
       true,
       length},
  };
}

/// What the swing tells, and where it begins and strikes.
std::vector<QuantityField> fields_of_the_swing() {
  const std::vector<UnitSlip>& length = length_slips();
  return {
      {"reduced_length_m",
       "rig.reduced-length",
       "length of the simple pendulum that swings alike, I/(mL)",
       0.05,
       2.5,
       0.005,
       false,
       true,
       length},
      {"period_small_s",
       "rig.period",
       "period of small swings, there and back",
       0.4,
       3.5,
       0.003,
       false,
       true,
       {{"ms", 1e-3}}},
      {"period_amplitude_deg",
       "rig.period-amplitude",
       "amplitude at which the period was timed",
       0.0,
       60.0,
       1.0,
       true,
       true,
       {}},
      {"gravity_m_per_s2", "rig.gravity", "local gravity", 9.76, 9.84, 0.015, true, true, {}},
      {"strike_radius_m",
       "rig.strike-radius",
       "axle to the middle of the blow",
       0.05,
       2.5,
       0.005,
       false,
       true,
       length},
      {"release_angle_deg",
       "rig.release-angle",
       "where the latch lets go, from hanging rest",
       10.0,
       175.0,
       0.3,
       true,
       true,
       {{"rad", 57.29577951308232}}},
      {"capacity_J",
       "rig.capacity",
       "energy of the release",
       0.05,
       1000.0,
       0.01,
       false,
       false,
       {{"mJ", 1e-3}}},
  };
}

const std::vector<QuantityField>& fields() {
  static const std::vector<QuantityField> all = [] {
    std::vector<QuantityField> both = fields_of_the_arm();
    for (const QuantityField& field : fields_of_the_swing()) both.push_back(field);
    return both;
  }();
  return all;
}

}  // namespace

const QuantityField& quantity_field(const std::string& name) {
  for (const QuantityField& field : fields()) {
    if (name == field.name) return field;
  }
  expects(false, "a rig file has no such quantity");
  return fields().front();
}

std::optional<Implausible> implausible(const QuantityField& field, double value) {
  if (value >= field.low && value <= field.high) return std::nullopt;
  Implausible why;
  why.wanted = "a number from " + number_text(field.low) + " to " + number_text(field.high) +
               " (" + field.meaning + ")";
  why.next = value < 0.0 ? "Sizes are written without a sign."
                         : "Check the unit: it is the last part of the field's name.";
  std::string meant;
  for (const UnitSlip& slip : field.slips) {
    const double right = value * slip.factor;
    if (right < field.low || right > field.high) continue;
    meant += (meant.empty() ? "" : " or ") + number_text(value) + " " + slip.unit + " (write " +
             number_text(*parse_number(significant_text(right, 6))) + ")";
  }
  if (!meant.empty()) why.next = "Did you mean " + meant + "?";
  return why;
}

double customary_u(const QuantityField& field, double value) {
  return field.u_is_absolute ? field.customary_u : field.customary_u * std::abs(value);
}

std::vector<std::string> rig_keys() {
  std::vector<std::string> keys = {
      "format", "name", "note", "made_like", "zero", "latitude_deg", "height_m", "friction"};
  for (const QuantityField& field : fields()) keys.emplace_back(field.name);
  return keys;
}

}  // namespace swingloss
