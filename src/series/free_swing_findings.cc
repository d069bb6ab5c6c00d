// SPDX-License-Identifier: Apache-2.0
#include "series/free_swing_findings.h"

#include "core/number_text.h"
#include "series/bar_problem.h"
#include "swing/fit_decay.h"
#include "swing/length_by_swing.h"

namespace swingloss {
namespace {

std::optional<Uncertain> surest_length_m(const std::vector<SwingRecord>& free_swings,
                                         const Pendulum& pendulum) {
  std::optional<Uncertain> surest;
  for (const SwingRecord& record : free_swings) {
    const SwingMeasurement& m = record.measurement;
    if (m.outcome != Outcome::FreeSwing || !m.natural_rad_per_s) continue;
    const auto length_m = length_by_swing(pendulum, *m.natural_rad_per_s);
    if (length_m && (!surest || length_m->u() < surest->u())) surest = length_m;
  }
  return surest;
}

}  // namespace

Remark free_swing_unused(const std::string& clip, const std::string& cause) {
  return {"free-swing-unused",
          Severity::Warning,
          clip + " was not used for the rig's friction: " + cause};
}

FreeSwingFindings findings_of(const std::vector<SwingRecord>& free_swings, Pendulum pendulum) {
  FreeSwingFindings findings;
  std::vector<AngleTrack> tracks;
  for (const SwingRecord& record : free_swings) {
    if (record.arm.angles.samples.empty()) {
      findings.remarks.push_back(free_swing_unused(record.clip, cause_of_absence(record)));
      continue;
    }
    const Result<FreeDecay> decay = fit_decay(record.arm.angles);
    if (decay.ok()) {
      tracks.push_back(record.arm.angles);
    } else {
      findings.remarks.push_back(free_swing_unused(record.clip, sentences_of(decay.failure())));
    }
  }
  findings.reduced_length_m = surest_length_m(free_swings, pendulum);
  if (tracks.empty()) return findings;
  const Result<UncertainLaw> law = law_of_free_swings(tracks);
  if (law.ok()) {
    if (findings.reduced_length_m) pendulum.reduced_length_m = *findings.reduced_length_m;
    findings.friction = friction_of(law.value(), pendulum);
  } else {
    findings.remarks.push_back(
        free_swing_unused("The free swings", sentences_of(law.failure())));
  }
  return findings;
}

void take_in(const FreeSwingFindings& findings, Rig& rig) {
  if (findings.friction) rig.pendulum.friction = findings.friction;
  if (!findings.reduced_length_m) return;
  const auto in_m = [](const Uncertain& length_m) {
    const ValueText text = format_with_u(length_m.value(), length_m.u());
    return text.value + " ± " + text.u + " m";
  };
  rig.remarks.push_back({"length-by-free-swing",
                         Severity::Note,
                         "A free swing tells the reduced length better than the rig file, "
                         "which says " +
                             in_m(rig.pendulum.reduced_length_m) + ": " +
                             in_m(*findings.reduced_length_m) + "."});
  rig.pendulum.reduced_length_m = *findings.reduced_length_m;
  rig.reduced_length_m = findings.reduced_length_m;
}

}  // namespace swingloss
