// SPDX-License-Identifier: Apache-2.0
#include "report/overlay_texts.h"

#include "report/words.h"

namespace swingloss {
namespace {

/// A value shown from an event on; where the clip does not show the event, from the start.
ReadOut measured_from(const std::string& name,
                      const std::string& words,
                      const std::optional<double>& event_s) {
  ReadOut line{name, words.empty() ? "not measured" : words};
  if (!words.empty() && event_s) line.from_s = *event_s;
  return line;
}

bool wants_energy(const SwingRecord& record, bool rig_given) {
  return rig_given && record.measurement.outcome != Outcome::FreeSwing;
}

ReadOut energy_line(const SwingRecord& record, bool rig_given) {
  const SwingMeasurement& m = record.measurement;
  if (m.outcome == Outcome::FreeSwing) return {"energy", "none: a free swing"};
  if (!rig_given && !m.absorbed_J) return {"energy", "no rig given"};
  const std::string sign = m.censoring == Censoring::Right ? "at least " : "";
  return measured_from("energy",
                       m.absorbed_J ? sign + with_u_words(*m.absorbed_J, "J") : "",
                       m.events.turn_s ? m.events.turn_s : m.events.blow_s);
}

}  // namespace

std::vector<ReadOut> read_outs(const SwingRecord& record, bool rig_given) {
  const SwingMeasurement& m = record.measurement;
  const auto angle = [](const std::optional<Uncertain>& angle_rad) {
    return angle_rad ? angle_words(*angle_rad) : std::string();
  };
  std::vector<ReadOut> lines = {
      measured_from("release", angle(m.release_angle_rad), m.events.release_s)};
  if (m.outcome != Outcome::FreeSwing) {
    const std::string speed =
        m.impact_speed_m_per_s ? with_u_words(*m.impact_speed_m_per_s, "m/s") : "now";
    lines.push_back(measured_from("blow", m.events.blow_s ? speed : "", m.events.blow_s));
    lines.push_back(measured_from("rise", angle(m.rise_angle_rad), m.events.turn_s));
  }
  lines.push_back(energy_line(record, rig_given));
  return lines;
}

std::string cause_words(const SwingRecord& record, bool rig_given) {
  if (!wants_energy(record, rig_given) || record.measurement.absorbed_J) return {};
  return "No energy: " + cause_of_absence(record);
}

}  // namespace swingloss
