// SPDX-License-Identifier: Apache-2.0
#include "report/escape.h"
#include "report/html.h"
#include "report/page_sections.h"
#include "report/words.h"
#include "rig/check_rig.h"
#include "series/release_of_rig.h"

namespace swingloss {
namespace {

using Facts = std::vector<std::pair<std::string, std::string>>;

void add(Facts& facts,
         const std::string& name,
         const std::optional<Uncertain>& value,
         const std::string& unit) {
  if (!value) return;
  const bool is_nothing = value->value() == 0.0 && value->u() == 0.0;
  facts.emplace_back(name, is_nothing ? "none" : html_text(with_u_words(*value, unit)));
}

void add_friction(Facts& facts, const std::optional<FrictionModel>& friction) {
  if (!friction) {
    facts.emplace_back("Friction",
                       "not given; taken from each clip’s own decay where it shows enough");
    return;
  }
  add(facts, "Friction, dry", friction->dry_Nm, "N·m");
  add(facts, "Friction, with speed", friction->linear_Nms, "N·m·s");
  add(facts, "Friction, with speed squared", friction->quadratic_Nms2, "N·m·s²");
}

/// What the constants above were worked out from.
void add_typed(Facts& facts, const Rig& rig) {
  add(facts, "Mass", rig.mass_kg, "kg");
  add(facts, "Axle to centre of mass", rig.com_m, "m");
  add(facts, "Scale reading, arm level", rig.scale_reading_kg, "kg");
  add(facts, "Axle to scale", rig.scale_radius_m, "m");
  add(facts, "Period of small swings", rig.period_small_s, "s");
  if (rig.latitude_deg) {
    facts.emplace_back("Latitude", html_text(rounded_words(*rig.latitude_deg, 4, "°")));
  }
  if (rig.height_m)
    facts.emplace_back("Height", html_text(rounded_words(*rig.height_m, 3, "m")));
}

std::string limits_words(const RigCheck& check) {
  const auto words = [&](double limit) { return rounded_words(limit, 3, check.unit); };
  if (check.low && check.high) return words(*check.low) + " to " + words(*check.high);
  if (check.low) return "at least " + words(*check.low);
  if (check.high) return "at most " + words(*check.high);
  return "–";
}

/// A figure that is itself an uncertainty has none: three digits are plenty.
std::string measured_words(const RigCheck& check) {
  if (!check.measured) return "–";
  return html_text(check.measured->u() > 0.0
                       ? with_u_words(*check.measured, check.unit)
                       : rounded_words(check.measured->value(), 3, check.unit));
}

/// "179-1" is not parted at the line's end.
std::string with_whole_numbers(std::string text) {
  const std::string number = "179-1";
  for (std::size_t at = text.find(number); at != std::string::npos; at = text.find(number, at))
    text.replace(at, number.size(), "179\u20111");
  return text;
}

std::string check_word(CheckVerdict verdict) {
  const char* style = verdict == CheckVerdict::Pass     ? "clear"
                      : verdict == CheckVerdict::Fail   ? "fail"
                      : verdict == CheckVerdict::Unsure ? "likely"
                                                        : "open";
  return std::string("<span class=\"word ") + style + "\">" + name_of(verdict) + "</span>";
}

/// The rig against what the standards ask, line by line; released as the latch has it, else as
/// the clips show.
std::string checks_table(const Rig& rig, const std::optional<MeasuredRelease>& measured) {
  RigCheckOptions options;
  if (measured && !rig.pendulum.release_angle_rad)
    options.release_angle_rad = measured->angle_rad;
  std::vector<HtmlRow> rows;
  for (const RigCheck& check : check_rig(rig, options)) {
    rows.push_back({{html_text(check.what),
                     measured_words(check),
                     html_text(limits_words(check)),
                     check_word(check.verdict),
                     html_text(check.note),
                     with_whole_numbers(html_text(check.source))}});
  }
  if (rows.empty()) return {};
  return html_table("Checks of " + rig.name,
                    {{"Check", false},
                     {"Measured", true},
                     {"Limit", true},
                     {"Verdict", false},
                     {"What it means", false},
                     {"Source of the limit", false}},
                    rows);
}

std::string rig_article(const SeriesResult& series, const Rig& rig) {
  const Pendulum& pendulum = rig.pendulum;
  const std::optional<MeasuredRelease> measured = release_of_rig(series, rig.name);
  Facts facts;
  add(facts, "Moment M = m·g·L", pendulum.moment_Nm, "N·m");
  add(facts, "Reduced length ℓ = I/(m·L)", pendulum.reduced_length_m, "m");
  add(facts, "Local gravity g", pendulum.gravity_m_per_s2, "m/s²");
  add(facts, "Striking radius R", pendulum.strike_radius_m, "m");
  if (pendulum.release_angle_rad) {
    facts.emplace_back("Release angle of the latch",
                       html_text(angle_words(*pendulum.release_angle_rad)));
  }
  if (measured) {
    facts.emplace_back("Release angle, " + std::to_string(measured->clips) +
                           (measured->clips == 1 ? " clip" : " clips; ± for one of them"),
                       html_text(angle_words(measured->angle_rad)));
  }
  if (rig.capacity_J) {
    facts.emplace_back("Capacity", html_text(rounded_words(*rig.capacity_J, 3, "J")));
  }
  add_friction(facts, pendulum.friction);
  add_typed(facts, rig);
  if (!rig.made_like.empty()) facts.emplace_back("Made like", html_text(rig.made_like));
  if (!rig.zero.empty()) facts.emplace_back("Zero found by", html_text(rig.zero));
  if (!rig.note.empty()) facts.emplace_back("Note", html_text(rig.note));
  return "<h3>" + html_name(rig.name) + "</h3>\n" + html_facts(facts) +
         checks_table(rig, measured) + html_remarks(rig.remarks);
}

std::string tie_lines(const SeriesResult& series) {
  if (!series.ranking) return {};
  std::string html;
  for (const RigTie& tie : series.ranking->ties) {
    html += "<p>Values of " + html_name(tie.rig) + " were multiplied by " +
            rounded_words(tie.factor, 4, "") + " (u " + rounded_words(tie.u_factor, 2, "") +
            ") to read as on " + html_name(tie.base_rig) + ", from bars of " +
            html_name(tie.reference) + " broken on both.</p>\n";
  }
  return html;
}

}  // namespace

std::string rigs_section(const SeriesResult& series) {
  if (series.rigs.empty()) return {};
  std::string html;
  for (const Rig& rig : series.rigs) html += rig_article(series, rig);
  html += tie_lines(series);
  return html_section(
      "rigs", series.rigs.size() == 1 ? "The instrument" : "The instruments", html);
}

}  // namespace swingloss
