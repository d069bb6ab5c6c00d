// SPDX-License-Identifier: Apache-2.0
#include "series/clip_record.h"

#include "imaging/frame_source.h"
#include "series/measure_clip.h"
#include "series/store.h"

#include <filesystem>

namespace swingloss {
namespace {

/// Throws what measuring would throw. A folder's pictures must be read: their sizes may differ.
void check_clip(const std::string& path) {
  const auto source = open_clip(path);
  if (!std::filesystem::is_directory(path)) return;
  while (source->next()) continue;
}

}  // namespace

std::optional<SwingRecord> clip_record(const ClipJob& job, Reuse reuse) {
  const std::string inputs = inputs_mark(job.clip, job.rig_mark);
  if (reuse != Reuse::Nothing) {
    if (auto stored = stored_swing(job.stored_in, inputs)) return stored;
  }
  if (reuse == Reuse::Only) {
    check_clip(job.clip);
    return {};
  }
  MeasureOptions options;
  options.track.jobs = job.jobs;
  options.views = job.views;
  return keep_swing(
      job.stored_in, inputs, measure_clip(job.clip, job.shown_as, job.pendulum, options));
}

}  // namespace swingloss
