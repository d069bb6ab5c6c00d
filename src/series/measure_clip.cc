// SPDX-License-Identifier: Apache-2.0
#include "series/measure_clip.h"

#include "imaging/shown_lines.h"
#include "series/angle_table.h"
#include "series/bar_problem.h"
#include "series/decay_record.h"
#include "series/followed_clip.h"
#include "swing/split_blows.h"

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

SwingRecord followed(const std::string& path,
                     const std::string& shown_as,
                     const MeasureOptions& options) {
  SwingRecord record;
  record.clip = shown_as;
  ReadOptions reading;
  reading.lines = lines_shown(path);
  const ClipOpener open = [&] { return open_clip(path, reading); };
  Result<ArmTrack> arm = track_arm(open, options.track);
  if (!arm.ok()) {
    record.arm.remarks.push_back(refusal_of(arm.failure()));
    return record;
  }
  record.arm = std::move(arm).value();
  if (options.views.empty() || how_followed(record).steadied) return record;
  if (const std::optional<Frame> first = open()->next())
    record.arm = recall_view(record.arm, first->luma, options.views);
  return record;
}

SwingRecord read(const std::string& path, const TrackFileOptions& options) {
  AngleTable table = read_angle_table(path, options.table);
  SwingRecord record;
  record.clip = path;
  record.typed_track = true;
  record.arm.angles = std::move(table.track);
  record.arm.remarks = std::move(table.remarks);
  return record;
}

bool has_track(const SwingRecord& record) { return !record.arm.angles.samples.empty(); }

SwingRecord measured(SwingRecord record,
                     const Pendulum* pendulum,
                     const SwingOptions& options) {
  if (has_track(record)) add_physics(record, pendulum, options);
  return record;
}

std::vector<SwingRecord> each_measured(const SwingRecord& whole,
                                       const Pendulum* pendulum,
                                       const SwingOptions& options) {
  if (!has_track(whole)) return {whole};
  const Result<std::vector<AngleTrack>> parts = split_blows(whole.arm.angles);
  if (!parts.ok()) return {measured(whole, pendulum, options)};
  std::vector<SwingRecord> records;
  for (const AngleTrack& part : parts.value()) {
    SwingRecord record = whole;
    record.arm.angles = part;
    records.push_back(measured(std::move(record), pendulum, options));
  }
  return records;
}

}  // namespace

SwingRecord measure_clip(const std::string& path,
                         const std::string& shown_as,
                         const Pendulum* pendulum,
                         const MeasureOptions& options) {
  return measured(followed(path, shown_as, options), pendulum, options.swing);
}

SwingRecord measure_track_file(const std::string& path,
                               const Pendulum* pendulum,
                               const TrackFileOptions& options) {
  return measured(read(path, options), pendulum, options.swing);
}

SwingRecord measure_again(SwingRecord record, const Pendulum* pendulum) {
  record.measurement = {};
  record.decay.reset();
  return measured(std::move(record), pendulum, {});
}

std::vector<SwingRecord> measure_all_of_clip(const std::string& path,
                                             const std::string& shown_as,
                                             const Pendulum* pendulum,
                                             const MeasureOptions& options) {
  return each_measured(followed(path, shown_as, options), pendulum, options.swing);
}

std::vector<SwingRecord> measure_all_of_track_file(const std::string& path,
                                                   const Pendulum* pendulum,
                                                   const TrackFileOptions& options) {
  return each_measured(read(path, options), pendulum, options.swing);
}

bool answers(const SwingRecord& record, bool rig_given) {
  const SwingMeasurement& measurement = record.measurement;
  if (measurement.outcome == Outcome::Unclear) return false;
  const bool energy_due = rig_given && measurement.outcome != Outcome::FreeSwing;
  return !energy_due || measurement.absorbed_J.has_value();
}

}  // namespace swingloss
