// SPDX-License-Identifier: Apache-2.0
#include "series/decay_record.h"

#include <algorithm>

namespace swingloss {
namespace {

constexpr int kFewestToBeFree = 6;

/// 9.80665 m/s2 and what gravity differs by over the globe, 9.780 to 9.832, as a rectangle.
Uncertain assumed_gravity() {
  return Uncertain::from(9.80665, 0.015, "gravity.assumed", SourceKind::Shared);
}

/// Whether all that is refused are angles which a track that begins in full swing cannot show.
bool begins_in_full_swing(const SwingMeasurement& m) {
  bool not_seen = false;
  for (const Remark& remark : m.remarks) {
    if (remark.severity != Severity::Refusal) continue;
    const bool release = remark.code == "release-not-seen";
    not_seen = not_seen || release;
    if (!release && remark.code != "blow-or-friction") return false;
  }
  return not_seen;
}

void call_free(SwingMeasurement& m) {
  m.outcome = Outcome::FreeSwing;
  m.remarks.erase(std::remove_if(m.remarks.begin(),
                                 m.remarks.end(),
                                 [](const Remark& r) { return r.code == "blow-or-friction"; }),
                  m.remarks.end());
}

}  // namespace

void add_decay(SwingRecord& record, const Pendulum* pendulum) {
  SwingMeasurement& m = record.measurement;
  if (m.outcome != Outcome::FreeSwing && m.outcome != Outcome::Unclear) return;
  Result<FreeDecay> decay = fit_decay(record.arm.angles);
  if (!decay.ok()) return;
  DecayRecord kept;
  kept.decay = std::move(decay).value();
  kept.gravity_assumed = pendulum == nullptr;
  const Uncertain gravity =
      pendulum != nullptr ? pendulum->gravity_m_per_s2 : assumed_gravity();
  const Uncertain& natural = kept.decay.natural_rad_per_s;
  kept.reduced_length_m = gravity / (natural * natural);
  if (m.outcome == Outcome::Unclear && kept.decay.half_swings >= kFewestToBeFree &&
      begins_in_full_swing(m)) {
    call_free(m);
  }
  Remarks& remarks = kept.decay.remarks;
  append(m.remarks, remarks);
  remarks.clear();
  record.decay = std::move(kept);
}

}  // namespace swingloss
