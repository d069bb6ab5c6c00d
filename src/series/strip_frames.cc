// SPDX-License-Identifier: Apache-2.0
#include "series/strip_frames.h"

#include "series/arm_in_picture.h"
#include "series/followed_clip.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace swingloss {
namespace {

std::vector<StripFrame> events_of(const SwingRecord& record) {
  const SwingEvents& events = record.measurement.events;
  std::vector<StripFrame> strip;
  const auto add = [&](const char* name, const std::optional<double>& t_s) {
    if (!t_s) return;
    strip.emplace_back();
    strip.back().event = name;
    strip.back().event_s = *t_s;
  };
  add("release", events.release_s);
  add("blow", events.blow_s);
  add("turn", events.turn_s);
  return strip;
}

/// A picture of one's own, for a source may use the memory of its pictures again. Brightness
/// alone is not kept: strips are drawn in colour.
Frame kept(const Frame& frame) { return {frame.index, frame.t_s, {}, frame.bgr.clone()}; }

/// Pictures come in order of time: an event's is settled once they move away from it.
void take_nearest(std::vector<StripFrame>& strip, FrameSource& source) {
  std::vector<double> distance_s(strip.size(), std::numeric_limits<double>::infinity());
  bool any_open = true;
  while (any_open) {
    const std::optional<Frame> next = source.next();
    if (!next) return;
    const Frame frame = kept(*next);
    any_open = false;
    for (std::size_t k = 0; k < strip.size(); ++k) {
      const double distance = std::abs(frame.t_s - strip[k].event_s);
      if (distance > distance_s[k]) continue;
      any_open = true;
      distance_s[k] = distance;
      strip[k].frame = frame;
    }
  }
}

void place_arm(StripFrame& strip, const SwingRecord& record) {
  const ArmInPicture arm =
      arm_in_picture(record, strip.frame.index, strip.frame.t_s, strip.event == "blow");
  strip.axle_px = record.arm.view.axle_px;
  strip.fitted_rad = arm.fitted_rad;
  strip.measured_rad = arm.measured_rad;
  strip.arm_end_px = arm.end_px;
}

}  // namespace

std::vector<StripFrame> strip_frames(const SwingRecord& record, const std::string& clip_path) {
  if (record.typed_track) return {};
  std::vector<StripFrame> strip = events_of(record);
  if (strip.empty()) return strip;
  ReadOptions options;
  options.colour = true;
  take_nearest(strip, *followed_clip(clip_path, how_followed(record), options)());
  for (StripFrame& each : strip) place_arm(each, record);
  return strip;
}

}  // namespace swingloss
