// SPDX-License-Identifier: Apache-2.0
#include "cli/say_rig.h"

#include "cli/say_swing.h"
#include "cli/text_table.h"
#include "report/words.h"

namespace swingloss {
namespace {

void add_fact(std::string& text,
              const std::string& name,
              const std::optional<Uncertain>& x,
              const std::string& unit) {
  if (x) text += fact_line(name, with_u_words(*x, unit));
}

std::string friction_lines(const std::optional<FrictionModel>& friction) {
  if (!friction) return fact_line("friction", "not known: give free swings with --free");
  return fact_line("friction, dry", with_u_words(friction->dry_Nm, "N m")) +
         fact_line("  linear", with_u_words(friction->linear_Nms, "N m s")) +
         fact_line("  quadratic", with_u_words(friction->quadratic_Nms2, "N m s²"));
}

std::string facts_of(const Rig& rig) {
  std::string text = rig.name + "\n";
  add_fact(text, "moment", rig.pendulum.moment_Nm, "N m");
  add_fact(text, "reduced length", rig.pendulum.reduced_length_m, "m");
  add_fact(text, "gravity", rig.pendulum.gravity_m_per_s2, "m/s²");
  add_fact(text, "strike radius", rig.pendulum.strike_radius_m, "m");
  if (rig.pendulum.release_angle_rad) {
    text += fact_line("release", angle_words(*rig.pendulum.release_angle_rad));
  }
  return text + friction_lines(rig.pendulum.friction);
}

std::string limit_words(const RigCheck& check) {
  const auto words = [&](double x) { return rounded_words(x, 4, check.unit); };
  if (check.low && check.high) return words(*check.low) + " to " + words(*check.high);
  if (check.low) return "from " + words(*check.low);
  return check.high ? "up to " + words(*check.high) : "-";
}

std::string checks_table(const std::vector<RigCheck>& checks) {
  TextTable table;
  table.is_number = {false, true, false, false, false};
  table.rows.push_back({"check", "measured", "limit", "verdict", "source"});
  std::string notes;
  for (const RigCheck& check : checks) {
    table.rows.push_back({check.what,
                          check.measured ? with_u_words(*check.measured, check.unit) : "-",
                          limit_words(check),
                          name_of(check.verdict),
                          check.source});
    if (!check.note.empty()) notes += "  - " + check.what + ": " + check.note + "\n";
  }
  return text_of(table) + (notes.empty() ? "" : "\nNotes\n" + notes);
}

}  // namespace

std::string account_of(const Rig& rig, const std::vector<RigCheck>& checks) {
  const std::string remarks = account_of(rig.remarks);
  return facts_of(rig) + "\n" + checks_table(checks) +
         (remarks.empty() ? "" : "\nRemarks\n" + remarks);
}

}  // namespace swingloss
