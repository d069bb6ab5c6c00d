// SPDX-License-Identifier: Apache-2.0
#include "series/free_swing_losses.h"

#include "series/bar_problem.h"
#include "swing/fit_decay.h"

namespace swingloss {

Remark free_swing_unused(const std::string& clip, const std::string& cause) {
  return {"free-swing-unused",
          Severity::Warning,
          clip + " was not used for the rig's friction: " + cause};
}

FreeSwingLosses losses_of(const std::vector<SwingRecord>& free_swings,
                          const Pendulum& pendulum) {
  FreeSwingLosses losses;
  std::vector<AngleTrack> tracks;
  for (const SwingRecord& record : free_swings) {
    if (record.arm.angles.samples.empty()) {
      losses.remarks.push_back(free_swing_unused(record.clip, cause_of_absence(record)));
      continue;
    }
    const Result<FreeDecay> decay = fit_decay(record.arm.angles);
    if (decay.ok()) {
      tracks.push_back(record.arm.angles);
    } else {
      losses.remarks.push_back(free_swing_unused(record.clip, sentences_of(decay.failure())));
    }
  }
  if (tracks.empty()) return losses;
  const Result<UncertainLaw> law = law_of_free_swings(tracks);
  if (law.ok()) {
    losses.friction = friction_of(law.value(), pendulum);
  } else {
    losses.remarks.push_back(free_swing_unused("The free swings", sentences_of(law.failure())));
  }
  return losses;
}

}  // namespace swingloss
