// SPDX-License-Identifier: Apache-2.0
#include "series/measure_clip.h"

#include "series/angle_table.h"
#include "series/bar_problem.h"
#include "series/decay_record.h"

namespace swingloss {
namespace {

Remark refusal_of(const Failure& failure) {
  return {failure.code, Severity::Refusal, sentences_of(failure)};
}

void add_physics(SwingRecord& record, const Pendulum* pendulum, const SwingOptions& options) {
  Result<SwingMeasurement> measured = measure_swing(record.arm.angles, pendulum, options);
  if (measured.ok()) {
    record.measurement = std::move(measured).value();
  } else {
    record.measurement.remarks.push_back(refusal_of(measured.failure()));
  }
  add_decay(record, pendulum);
}

}  // namespace

SwingRecord measure_clip(const std::string& path,
                         const std::string& shown_as,
                         const Pendulum* pendulum,
                         const MeasureOptions& options) {
  SwingRecord record;
  record.clip = shown_as;
  Result<ArmTrack> arm = track_arm([&] { return open_clip(path); }, options.track);
  if (!arm.ok()) {
    record.arm.remarks.push_back(refusal_of(arm.failure()));
    return record;
  }
  record.arm = std::move(arm).value();
  add_physics(record, pendulum, options.swing);
  return record;
}

SwingRecord measure_track_file(const std::string& path,
                               const Pendulum* pendulum,
                               const TrackFileOptions& options) {
  AngleTable table = read_angle_table(path, options.table);
  SwingRecord record;
  record.clip = path;
  record.typed_track = true;
  record.arm.angles = std::move(table.track);
  record.arm.remarks = std::move(table.remarks);
  add_physics(record, pendulum, options.swing);
  return record;
}

bool answers(const SwingRecord& record, bool rig_given) {
  const SwingMeasurement& measurement = record.measurement;
  if (measurement.outcome == Outcome::Unclear) return false;
  const bool energy_due = rig_given && measurement.outcome != Outcome::FreeSwing;
  return !energy_due || measurement.absorbed_J.has_value();
}

}  // namespace swingloss
