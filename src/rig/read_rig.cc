// SPDX-License-Identifier: Apache-2.0
#include "core/angle.h"
#include "core/input_error.h"
#include "core/number_text.h"
#include "core/text_file.h"
#include "rig/normal_gravity.h"
#include "rig/rig.h"
#include "rig/rig_json.h"
#include "swing/period_ratio.h"

#include <cmath>

namespace swingloss {
namespace {

/// Conventional value, exact by definition; not the local one.
constexpr double kStandardGravity_m_per_s2 = 9.80665;

void remark(Rig& rig, const std::string& code, const std::string& text) {
  rig.remarks.push_back({code, Severity::Warning, text});
}

void read_typed(RigJson& file, Rig& rig) {
  rig.name = file.text("name");
  rig.note = file.text("note");
  rig.made_like = file.text("made_like");
  rig.zero = file.text("zero");
  rig.mass_kg = file.quantity("mass_kg");
  rig.com_m = file.quantity("com_m");
  rig.moment_Nm = file.quantity("moment_Nm");
  rig.scale_reading_kg = file.quantity("scale_reading_kg");
  rig.scale_radius_m = file.quantity("scale_radius_m");
  rig.reduced_length_m = file.quantity("reduced_length_m");
  rig.period_small_s = file.quantity("period_small_s");
  const std::optional<Uncertain> amplitude_deg = file.quantity("period_amplitude_deg");
  if (amplitude_deg) rig.period_amplitude_rad = (kPi / 180.0) * *amplitude_deg;
  rig.gravity_m_per_s2 = file.quantity("gravity_m_per_s2");
  rig.latitude_deg = file.number("latitude_deg", -90.0, 90.0);
  rig.height_m = file.number("height_m", -500.0, 6000.0);
  rig.pendulum.strike_radius_m = file.quantity("strike_radius_m");
  const std::optional<Uncertain> release_deg = file.quantity("release_angle_deg");
  if (release_deg) rig.pendulum.release_angle_rad = (kPi / 180.0) * *release_deg;
  const std::optional<Uncertain> capacity_J = file.quantity("capacity_J");
  if (capacity_J) rig.capacity_J = capacity_J->value();
  const std::optional<std::vector<Uncertain>> friction = file.friction();
  if (friction) {
    rig.pendulum.friction = FrictionModel{(*friction)[0], (*friction)[1], (*friction)[2]};
  }
}

void expect_zero_method(const Rig& rig, const std::string& path) {
  const bool known = rig.zero.empty() || rig.zero == "rest" || rig.zero == "motion" ||
                     rig.zero == "plumb" || rig.zero == "picture";
  if (known) return;
  throw InputError({path,
                    "field zero",
                    "\"" + rig.zero + "\"",
                    "\"rest\", \"motion\", \"plumb\" or \"picture\"",
                    "It says how hanging rest is found: a stretch of rest in the clip, the "
                    "centre of the motion, a plumb line, or the picture's own vertical."});
}

Uncertain gravity_of(Rig& rig) {
  if (rig.gravity_m_per_s2) return *rig.gravity_m_per_s2;
  if (rig.latitude_deg)
    return local_gravity_m_per_s2(*rig.latitude_deg, rig.height_m.value_or(0.0));
  remark(
      rig,
      "gravity-assumed",
      "The rig file gives neither gravity_m_per_s2 nor latitude_deg; 9.80665 with a standard "
      "uncertainty of 0.015 m/s2 was assumed, which covers the inhabited Earth.");
  return Uncertain::from(kStandardGravity_m_per_s2, 0.015, "rig.gravity", SourceKind::Shared);
}

Uncertain moment_of(const RigJson& file, Rig& rig) {
  const Uncertain& g = rig.pendulum.gravity_m_per_s2;
  std::vector<Uncertain> ways;
  if (rig.moment_Nm) ways.push_back(*rig.moment_Nm);
  if (rig.mass_kg && rig.com_m) ways.push_back(*rig.mass_kg * g * *rig.com_m);
  if (rig.scale_reading_kg && rig.scale_radius_m) {
    ways.push_back(*rig.scale_reading_kg * g * *rig.scale_radius_m);
  }
  if (ways.empty()) {
    file.missing("field moment_Nm",
                 "the moment m g L: moment_Nm, or mass_kg with com_m, or scale_reading_kg with "
                 "scale_radius_m",
                 "Hold the arm level on a kitchen scale: reading times distance from the axle "
                 "is what is needed.");
  }
  for (std::size_t i = 1; i < ways.size(); ++i) {
    const Uncertain difference = ways[i] - ways[0];
    if (std::abs(difference.value()) <= 3.0 * difference.u()) continue;
    remark(rig,
           "moments-disagree",
           "Two ways to the moment give " + significant_text(ways[0].value(), 5) + " and " +
               significant_text(ways[i].value(), 5) +
               " N m, farther apart than both uncertainties allow; the first was used.");
  }
  return ways[0];
}

Uncertain length_of(const RigJson& file, const Rig& rig) {
  if (rig.reduced_length_m) return *rig.reduced_length_m;
  if (!rig.period_small_s) {
    file.missing("field reduced_length_m",
                 "the reduced length: reduced_length_m, or period_small_s",
                 "Time fifty small swings (within 5 degrees) and write the period of one.");
  }
  const Angle amplitude =
      Angle::from_rad(rig.period_amplitude_rad ? rig.period_amplitude_rad->value() : 0.0);
  const double ratio = period_ratio(amplitude);
  const double step_rad = 1e-4;
  const double by_rad =
      (period_ratio(Angle::from_rad(amplitude.rad() + step_rad)) - ratio) / step_rad;
  const Uncertain exact_amplitude;
  const Uncertain slowing = Uncertain::combine(
      ratio,
      {{by_rad, rig.period_amplitude_rad ? &*rig.period_amplitude_rad : &exact_amplitude}});
  const Uncertain per_natural_s = *rig.period_small_s / (2.0 * kPi * slowing);
  return rig.pendulum.gravity_m_per_s2 * per_natural_s * per_natural_s;
}

}  // namespace

Rig read_rig_text(const std::string& text, const std::string& path) {
  RigJson file(text, path);
  Rig rig;
  read_typed(file, rig);
  rig.remarks = file.remarks();
  expect_zero_method(rig, path);
  rig.pendulum.gravity_m_per_s2 = gravity_of(rig);
  rig.pendulum.moment_Nm = moment_of(file, rig);
  rig.pendulum.reduced_length_m = length_of(file, rig);
  if (rig.com_m && rig.com_m->value() > rig.pendulum.reduced_length_m.value()) {
    remark(rig,
           "com-beyond-length",
           "The centre of mass (" + number_text(rig.com_m->value()) +
               " m) is farther from the axle than the reduced length (" +
               significant_text(rig.pendulum.reduced_length_m.value(), 4) +
               " m); no rigid body can be so. One of the two is wrong.");
  }
  return rig;
}

Rig read_rig(const std::string& path) { return read_rig_text(read_file(path), path); }

}  // namespace swingloss
