// SPDX-License-Identifier: Apache-2.0
#include "series/strip_frames.h"

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
void take_nearest(std::vector<StripFrame>& strip, const std::string& clip_path) {
  ReadOptions options;
  options.colour = true;
  const auto source = open_clip(clip_path, options);
  std::vector<double> distance_s(strip.size(), std::numeric_limits<double>::infinity());
  bool any_open = true;
  while (any_open) {
    const std::optional<Frame> next = source->next();
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

std::optional<std::size_t> sample_of(const SwingRecord& record, int frame) {
  const auto& samples = record.arm.angles.samples;
  const auto found =
      std::find_if(samples.begin(), samples.end(), [&](const AngleSample& sample) {
        return sample.frame == frame;
      });
  if (found == samples.end()) return {};
  return static_cast<std::size_t>(found - samples.begin());
}

/// The arm is drawn where the picture shows it: what the view moves the angle by, which the
/// law does not know, is put on again.
void place_arm(StripFrame& strip, const SwingRecord& record) {
  strip.axle_px = record.arm.view.axle_px;
  strip.fitted_rad = fitted_angle_rad(record, strip.frame.t_s);
  if (!record.measurement.zero_rad) return;
  const auto sample = sample_of(record, strip.frame.index);
  if (sample) strip.measured_rad = angle_from_rest_rad(record, *sample);
  if (sample && strip.event == "blow") strip.fitted_rad.reset();
  const auto angle = strip.fitted_rad ? strip.fitted_rad : strip.measured_rad;
  if (!angle) return;
  const double picture_rad = record.measurement.zero_rad->value() +
                             direction_of(record) * *angle +
                             (sample ? doubt_shift_rad(record, *sample) : 0.0);
  strip.arm_end_px = record.arm.view.project(
      swing_from_body({0.0, record.arm.arm_length_px, 0.0}, picture_rad));
}

}  // namespace

std::vector<StripFrame> strip_frames(const SwingRecord& record, const std::string& clip_path) {
  if (record.typed_track) return {};
  std::vector<StripFrame> strip = events_of(record);
  if (strip.empty()) return strip;
  take_nearest(strip, clip_path);
  for (StripFrame& each : strip) place_arm(each, record);
  return strip;
}

}  // namespace swingloss
