// SPDX-License-Identifier: Apache-2.0
#include "ranking/conditioning.h"

#include "core/angle.h"
#include "core/input_error.h"
#include "core/number_text.h"
#include "ranking/words.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

constexpr double kDay_s = 86400.0;

[[noreturn]] void refuse(const std::string& name,
                         const std::string& what,
                         double found,
                         const char* wanted) {
  const std::string text =
      std::isfinite(found) ? number_text(found) : "a number that is not finite";
  throw InputError({"", "record " + name + ", " + what, text, wanted, "Correct the record."});
}

void validate(const std::string& name, const std::vector<Reading>& readings, const char* what) {
  if (readings.empty()) refuse(name, what, 0.0, "one reading or more");
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const Reading& reading = readings[i];
    const bool good = std::isfinite(reading.value) && reading.value > 0.0;
    if (!good) refuse(name, what, reading.value, "a value above 0");
    const bool rises = i == 0 ? reading.t_s >= 0.0 : reading.t_s > readings[i - 1].t_s;
    if (!rises) refuse(name, "time", reading.t_s, "times that rise from 0");
  }
}

/// The better law's time at which the rest falls within the tolerance.
double settling_time(const ApproachFit& fit, double allowed) {
  const double change = std::abs(fit.final - fit.initial);
  if (change <= allowed) return 0.0;
  return fit.time_constant_s * approach_time(fit.law, 1.0 - allowed / change);
}

void judge_by_fit(const MassRecord& record, double allowed, Conditioning& result) {
  const ApproachFit& fit =
      *result.better == ApproachLaw::Plate ? *result.plate : *result.exponential;
  const double reference = record.dry_mass.value_or(record.masses.front().value);
  const double last_s = record.masses.back().t_s;
  result.final_uptake = fit.final / reference - 1.0;
  result.u_final_uptake = fit.u_final / reference;
  result.reached = approach_share(fit.law, last_s / fit.time_constant_s);
  result.settles_at_s = settling_time(fit, allowed);
  result.to_go_s = std::max(0.0, *result.settles_at_s - last_s);
  result.settled = *result.to_go_s == 0.0 ? Settled::Yes : Settled::No;
  if (result.settled == Settled::No) {
    result.remarks.push_back(
        {"not-settled",
         Severity::Warning,
         record.name + " has reached " + share_words(*result.reached) + " of its way; about " +
             fixed_text(std::ceil(*result.to_go_s / kDay_s), 0) +
             " days more until what is still to come is within the tolerance."});
  }
  if (2.0 * fit.u_final > allowed) {
    result.remarks.push_back({"end-uncertain",
                              Severity::Note,
                              "The final mass is known only to ±" +
                                  change_words(2.0 * fit.u_final / reference).substr(1) +
                                  " of the mass: weigh longer, or more finely."});
  }
}

void judge_by_last_readings(const MassRecord& record, double allowed, Conditioning& result) {
  if (record.masses.size() < 2) return;
  const Reading& last = record.masses.back();
  const Reading& before = record.masses[record.masses.size() - 2];
  const double span = last.t_s - record.masses.front().t_s;
  const bool still = std::abs(last.value - before.value) <= allowed;
  if (still && last.t_s - before.t_s < 0.2 * span) return;
  result.settled = still ? Settled::Yes : Settled::No;
  if (!still) return;
  result.to_go_s = 0.0;
  result.settles_at_s = last.t_s;
  for (auto reading = record.masses.rbegin(); reading != record.masses.rend(); ++reading) {
    if (std::abs(reading->value - last.value) > allowed) break;
    result.settles_at_s = reading->t_s;
  }
}

}  // namespace

const char* name_of(Settled settled) {
  switch (settled) {
    case Settled::Yes:
      return "yes";
    case Settled::No:
      return "no";
    case Settled::Unknown:
      return "unknown";
  }
  return "unknown";
}

Conditioning judge_conditioning(const MassRecord& record, const ConditioningOptions& options) {
  validate(record.name, record.masses, "mass");
  const double reference = record.dry_mass.value_or(record.masses.front().value);
  if (!(reference > 0.0)) refuse(record.name, "dry mass", reference, "a mass above 0");
  Conditioning result;
  result.name = record.name;
  result.last_reading_s = record.masses.back().t_s;
  for (const Reading& mass : record.masses)
    result.uptake.push_back(mass.value / reference - 1.0);
  const double allowed = options.tolerance * reference;

  const bool spans_time = record.masses.back().t_s > 0.0;
  std::string why_not;
  for (const ApproachLaw law : {ApproachLaw::Plate, ApproachLaw::Exponential}) {
    if (!spans_time) break;
    const Result<ApproachFit> fit = fit_approach(record.masses, law);
    std::optional<ApproachFit>& place =
        law == ApproachLaw::Plate ? result.plate : result.exponential;
    if (fit.ok()) {
      place = fit.value();
    } else {
      why_not = fit.failure().cause;
    }
  }
  if (result.plate && record.thickness_m) {
    result.diffusion_m2_per_s =
        *record.thickness_m * *record.thickness_m / (kPi * kPi * result.plate->time_constant_s);
  }
  if (result.plate || result.exponential) {
    const bool plate =
        !result.exponential ||
        (result.plate && result.plate->sum_of_squares <= result.exponential->sum_of_squares);
    result.better = plate ? ApproachLaw::Plate : ApproachLaw::Exponential;
    judge_by_fit(record, allowed, result);
  } else {
    judge_by_last_readings(record, allowed, result);
    result.remarks.push_back(
        {"no-law", Severity::Note, "No law of approach could be fitted: " + why_not + "."});
  }
  return result;
}

Settled settled_at(const Conditioning& conditioning, double tested_s) {
  if (conditioning.settles_at_s) {
    return tested_s >= *conditioning.settles_at_s ? Settled::Yes : Settled::No;
  }
  const bool within_record = tested_s <= conditioning.last_reading_s;
  return conditioning.settled == Settled::No && within_record ? Settled::No : Settled::Unknown;
}

std::vector<double> size_changes(const SizeRecord& record) {
  validate(record.name, record.sizes, "size");
  if (!(record.design_m > 0.0))
    refuse(record.name, "design size", record.design_m, "a size above 0");
  std::vector<double> changes;
  for (const Reading& size : record.sizes)
    changes.push_back(size.value / record.design_m - 1.0);
  return changes;
}

}  // namespace swingloss
