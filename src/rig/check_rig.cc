// SPDX-License-Identifier: Apache-2.0
#include "rig/check_rig.h"

#include "core/number_text.h"
#include "rig/nominal_machines.h"
#include "swing/energy.h"
#include "swing/swing_law.h"

#include <cmath>

namespace swingloss {
namespace {

/// What the checks share.
struct Subject {
  const Rig* rig = nullptr;
  std::optional<Uncertain> release_rad;
  std::optional<Uncertain> energy_J;  ///< of the release
  MachineLimits limits;
  std::string like;  ///< a sentence when no standard is named
};

CheckVerdict judged(const RigCheck& check) {
  if (!check.measured || (!check.low && !check.high)) return CheckVerdict::NotJudged;
  const double value = check.measured->value();
  const double reach = 2.0 * check.measured->u();
  const bool inside = (!check.low || value - reach >= *check.low) &&
                      (!check.high || value + reach <= *check.high);
  const bool outside =
      (check.low && value + reach < *check.low) || (check.high && value - reach > *check.high);
  return inside ? CheckVerdict::Pass : (outside ? CheckVerdict::Fail : CheckVerdict::Unsure);
}

/// A line to be filled in; not judged until it is closed.
RigCheck opened(const char* id, const char* what, const char* unit, const std::string& source) {
  RigCheck check;
  check.id = id;
  check.what = what;
  check.unit = unit;
  check.source = source;
  return check;
}

RigCheck closed(RigCheck check) {
  check.verdict = judged(check);
  return check;
}

/// Capacity as stated, else what the release gives.
std::optional<double> capacity_J(const Subject& s) {
  if (s.rig->capacity_J) return s.rig->capacity_J;
  if (s.energy_J) return s.energy_J->value();
  return std::nullopt;
}

std::string no_release() {
  return "Needs release_angle_deg in the rig file, or a clip that shows a release.";
}

RigCheck impact_speed(const Subject& s) {
  RigCheck check = opened("impact-speed", "impact speed", "m/s", s.limits.source);
  if (!s.release_rad || !s.rig->pendulum.strike_radius_m) {
    check.note = "Needs strike_radius_m in the rig file, and release_angle_deg or a clip.";
    return check;
  }
  const Uncertain drop = Uncertain::exact(1.0) - cos(*s.release_rad);
  const Uncertain omega = natural_rad_per_s(s.rig->pendulum) * sqrt(2.0 * drop);
  check.measured = omega * *s.rig->pendulum.strike_radius_m;
  const std::optional<double> capacity = capacity_J(s);
  const std::optional<NominalMachine> size =
      capacity ? nearest_size(s.limits, *capacity) : std::nullopt;
  if (size) {
    check.low = size->speed_m_per_s * (1.0 - s.limits.speed_tolerance_fraction);
    check.high = size->speed_m_per_s * (1.0 + s.limits.speed_tolerance_fraction);
    check.note = "Nominal " + number_text(size->speed_m_per_s) + " m/s for a " +
                 number_text(size->capacity_J) + " J pendulum." + s.like;
  } else if (s.limits.speed_high_m_per_s > 0.0) {
    check.low = s.limits.speed_low_m_per_s;
    check.high = s.limits.speed_high_m_per_s;
  }
  return closed(check);
}

RigCheck percussion(const Subject& s) {
  RigCheck check = opened(
      "percussion-length", "reduced length off the striking radius", "%", s.limits.source);
  check.low = 100.0 * s.limits.percussion_low;
  check.high = 100.0 * s.limits.percussion_high;
  if (!s.rig->pendulum.strike_radius_m) {
    check.note = "Needs strike_radius_m in the rig file.";
    return check;
  }
  const Uncertain& radius_m = *s.rig->pendulum.strike_radius_m;
  check.measured = 100.0 * ((s.rig->pendulum.reduced_length_m - radius_m) / radius_m);
  check.note =
      "A blow beside the centre of percussion shakes the axle and takes energy from "
      "the swing.";
  return closed(check);
}

RigCheck friction(const Subject& s) {
  RigCheck check =
      opened("friction", "loss in a free half swing, of the capacity", "%", s.limits.source);
  check.high = 100.0 * s.limits.loss_fraction;
  if (!s.release_rad || !s.rig->pendulum.friction) {
    check.note =
        s.release_rad ? "Needs the friction in the rig file; let the rig command work it "
                        "out from a free swing."
        : s.rig->pendulum.friction
            ? no_release()
            : "Needs the friction in the rig file (let the rig command work it out from "
              "a free swing), and release_angle_deg or a clip.";
    return check;
  }
  const std::optional<double> capacity = capacity_J(s);
  const std::optional<NominalMachine> size = nearest_size(s.limits, *capacity);
  if (size) check.high = 100.0 * size->largest_loss_fraction;
  const UncertainLaw law = law_of(*s.rig->pendulum.friction, s.rig->pendulum);
  const std::optional<Uncertain> rise_rad = free_rise_rad(law, *s.release_rad);
  if (!rise_rad) {
    check.note = "Friction stops the arm before it has turned.";
    check.verdict = CheckVerdict::Fail;
    return check;
  }
  check.measured = (100.0 / *capacity) *
                   raw_absorbed_J(s.rig->pendulum.moment_Nm, *s.release_rad, *rise_rad);
  check.note = "Corrected for in every bar, so a larger loss costs certainty and not truth.";
  return closed(check);
}

RigCheck energy(const Subject& s) {
  RigCheck check = opened("release-energy", "energy of the release", "J", "");
  check.measured = s.energy_J;
  if (!s.energy_J) {
    check.note = no_release();
    return check;
  }
  if (!s.rig->capacity_J) {
    check.note = "No capacity_J in the rig file to compare with.";
    return check;
  }
  // ISO 148-2 asks for one per cent of the nominal energy; ISO 13802's figure is not
  // remembered.
  check.source = "ISO 148-2 (from memory; check against the standard)";
  check.low = 0.99 * *s.rig->capacity_J;
  check.high = 1.01 * *s.rig->capacity_J;
  return closed(check);
}

RigCheck window(const Subject& s) {
  RigCheck check =
      opened("usable-window", "energies to be measured with it", "J", s.limits.source);
  const std::optional<double> capacity = capacity_J(s);
  if (!capacity) {
    check.note = "Needs capacity_J or release_angle_deg in the rig file, or a clip.";
    return check;
  }
  check.low = s.limits.usable_low * *capacity;
  check.high = s.limits.usable_high * *capacity;
  check.note = "From " + significant_text(*check.low, 3) + " to " +
               significant_text(*check.high, 3) + " J (" +
               number_text(100.0 * s.limits.usable_low) + " to " +
               number_text(100.0 * s.limits.usable_high) +
               " % of the capacity); if several hammers fit, take the largest.";
  return check;
}

RigCheck moment_doubt(const Subject& s) {
  const Uncertain& moment = s.rig->pendulum.moment_Nm;
  RigCheck check = opened(
      "moment-doubt", "standard uncertainty of the moment", "%", "common practice, no source");
  check.measured = Uncertain::exact(100.0 * moment.u() / moment.value());
  check.high = 0.5;
  check.note = "Every energy carries it; it cancels in ratios of bars from one rig.";
  return closed(check);
}

RigCheck centre_of_mass(const Subject& s) {
  RigCheck check = opened("centre-of-mass",
                          "centre of mass inside the reduced length",
                          "m",
                          "theorem of parallel axes");
  if (!s.rig->com_m) {
    check.note = "No com_m in the rig file.";
    return check;
  }
  check.measured = s.rig->pendulum.reduced_length_m - *s.rig->com_m;
  check.low = 0.0;
  check.note = "Reduced length less com_m: never below zero for a rigid arm.";
  return closed(check);
}

}  // namespace

const char* name_of(CheckVerdict verdict) {
  switch (verdict) {
    case CheckVerdict::Pass:
      return "pass";
    case CheckVerdict::Fail:
      return "fail";
    case CheckVerdict::Unsure:
      return "unsure";
    case CheckVerdict::NotJudged:
      return "not judged";
  }
  return "not judged";
}

std::vector<RigCheck> check_rig(const Rig& rig, const RigCheckOptions& options) {
  Subject s;
  s.rig = &rig;
  s.release_rad =
      options.release_angle_rad ? options.release_angle_rad : rig.pendulum.release_angle_rad;
  if (s.release_rad) s.energy_J = height_energy_J(rig.pendulum.moment_Nm, *s.release_rad);
  const std::optional<TestKind> kind = test_kind(rig.made_like);
  s.limits = limits_of(kind.value_or(TestKind::CharpyPlastics));
  if (!kind) {
    s.like =
        " The rig file names no standard known here (made_like); compared with ISO 13802's "
        "Charpy machines.";
  }
  return {impact_speed(s),
          percussion(s),
          friction(s),
          energy(s),
          window(s),
          moment_doubt(s),
          centre_of_mass(s)};
}

}  // namespace swingloss
