// SPDX-License-Identifier: Apache-2.0
#include "cli/say_swing.h"

#include "cli/say_decay.h"
#include "cli/text_table.h"
#include "report/words.h"

namespace swingloss {
namespace {

/// Turns what may be absent into a line, and says each cause once.
class Account {
 public:
  Account(const SwingRecord& record, bool rig_given) : record_(record), rig_given_(rig_given) {}

  void fact(const std::string& name, const std::string& text) {
    text_ += fact_line(name, text);
  }

  void add(const std::string& lines) { text_ += lines; }

  /// \param codes  of the refusals that speak of this angle
  void angle(const std::string& name,
             const std::optional<Uncertain>& angle_rad,
             const std::vector<std::string>& codes) {
    fact(name, angle_rad ? angle_words(*angle_rad) : absent(cause_of_absence(record_, codes)));
  }

  /// \param more  said after the value, when there is one
  void of_rig(const std::string& name,
              const std::optional<Uncertain>& x,
              const std::string& unit,
              const std::string& more) {
    if (!rig_given_ && !x) return;
    fact(name, x ? with_u_words(*x, unit) + more : absent(cause_of_absence(record_)));
  }

  /// The facts, and the remarks that were not already said as a cause.
  [[nodiscard]] std::string text() const {
    Remarks remarks;
    for (const Remark& remark : all_remarks(record_)) {
      if (said_.find(remark.text) == std::string::npos) remarks.push_back(remark);
    }
    return text_ + account_of(remarks);
  }

 private:
  std::string absent(const std::string& cause) {
    if (said_.find(cause) != std::string::npos) return "not measured, as above";
    said_ += cause + " ";
    return "not measured: " + cause;
  }

  const SwingRecord& record_;
  bool rig_given_;
  std::string text_, said_;
};

std::string absorbed_note(const SwingMeasurement& m) {
  return m.censoring == Censoring::Right
             ? " or more: what was there to take; the bar did not break"
             : "";
}

std::string swept_note(const SwingMeasurement& m) {
  if (!m.friction_swept_J) return "";
  return "; by the swept-angle rule " + with_u_words(*m.friction_swept_J, "J");
}

std::string textbook_note(const SwingMeasurement& m) {
  if (!m.textbook_speed_m_per_s) return "";
  return "; from the height alone " + rounded_words(*m.textbook_speed_m_per_s, 4, "m/s");
}

void add_rig_facts(Account& account, const SwingMeasurement& m) {
  const bool struck = m.outcome != Outcome::FreeSwing;
  if (struck) account.of_rig("absorbed", m.absorbed_J, "J", absorbed_note(m));
  account.of_rig("friction", m.friction_J, "J", swept_note(m));
  account.of_rig("impact speed", m.impact_speed_m_per_s, "m/s", textbook_note(m));
  if (!m.speed_drop) return;
  account.fact("speed drop",
               with_u_words(m.speed_drop->absorbed_J, "J") +
                   (m.speed_drop->agrees ? ": agrees" : ": DISAGREES with the height"));
}

std::string track_words(const SwingRecord& record) {
  const std::string samples = std::to_string(record.arm.angles.samples.size());
  if (record.typed_track) return samples + " angles of a file";
  return samples + " angles in " + std::to_string(record.arm.frames) + " pictures" +
         (record.arm.why_mode.empty() ? "" : "; " + record.arm.why_mode);
}

}  // namespace

std::string account_of(const SwingRecord& record, bool rig_given) {
  const SwingMeasurement& m = record.measurement;
  Account account(record, rig_given);
  account.fact("outcome", name_of(m.outcome));
  account.angle("release", m.release_angle_rad, {"release"});
  if (m.outcome != Outcome::NotBroken || m.rise_angle_rad) {
    account.angle("rise", m.rise_angle_rad, {"rise", "turn", "clip-ends"});
  }
  add_rig_facts(account, m);
  account.fact("track", track_words(record));
  if (record.decay) account.add(account_of(*record.decay));
  return record.clip + "\n" + account.text();
}

std::string account_of(const Remarks& remarks) {
  std::string text;
  for (const Remark& remark : remarks) {
    text += std::string("  - ") + name_of(remark.severity) + ": " + remark.text + "\n";
  }
  return text;
}

}  // namespace swingloss
