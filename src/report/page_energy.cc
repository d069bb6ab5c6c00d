// SPDX-License-Identifier: Apache-2.0
#include "core/angle.h"
#include "core/number_text.h"
#include "report/escape.h"
#include "report/html.h"
#include "report/page_sections.h"
#include "report/words.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

constexpr double kPivotX = 96.0;
constexpr double kPivotY = 80.0;
constexpr double kRadius = 70.0;

/// End of the arm on the dial; `angle_rad` positive to the left.
struct DialPoint {
  explicit DialPoint(double angle_rad)
      : x(fixed_text(kPivotX - kRadius * std::sin(angle_rad), 1)),
        y(fixed_text(kPivotY + kRadius * std::cos(angle_rad), 1)) {}
  std::string x, y;
};

std::string arm_to(const DialPoint& end, const std::string& colour, const char* width) {
  return "<path d=\"M" + fixed_text(kPivotX, 0) + " " + fixed_text(kPivotY, 0) + " L" + end.x +
         " " + end.y + "\" stroke=\"var(--" + colour + ")\" stroke-width=\"" + width + "\"/>";
}

/// The rows of a ledger: name, content, and whether it is the sum.
class Ledger {
 public:
  void add(const std::string& name, const std::string& content) {
    rows_ += row("", name, content);
  }
  void add_sum(const std::string& name, const std::string& content) {
    rows_ += row(" class=\"sum\"", name, content);
  }
  void add(const std::string& name,
           const std::optional<Uncertain>& value,
           const std::string& unit) {
    if (value) add(name, with_u_words(*value, unit));
  }
  [[nodiscard]] std::string html() const {
    if (rows_.empty()) return {};
    return "<table class=\"ledger\"><caption>Angles from hanging rest, energies, checks; ± is "
           "one standard uncertainty</caption>"
           "<tbody>\n" +
           rows_ + "</tbody></table>\n";
  }

 private:
  static std::string row(const std::string& style,
                         const std::string& name,
                         const std::string& content) {
    return "<tr" + style + "><th scope=\"row\">" + name + "</th><td class=\"num\">" + content +
           "</td></tr>\n";
  }
  std::string rows_;
};

void add_checks(Ledger& ledger, const SwingMeasurement& swing) {
  if (swing.speed_drop) {
    ledger.add(std::string("From the drop in speed (") +
                   (swing.speed_drop->agrees ? "agrees" : "<strong>does not agree</strong>") +
                   ")",
               with_u_words(swing.speed_drop->absorbed_J, "J"));
  }
  ledger.add("Friction by the swept-angle rule", swing.friction_swept_J, "J");
  ledger.add("Speed at the blow, measured", swing.impact_speed_m_per_s, "m/s");
  if (swing.textbook_speed_m_per_s) {
    ledger.add("√(2gR(1 − cos α))", rounded_words(*swing.textbook_speed_m_per_s, 4, "m/s"));
  }
  if (swing.fit_scatter_in_u > 0.0) {
    ledger.add("Scatter of the fit, in its own u",
               rounded_words(swing.fit_scatter_in_u, 2, ""));
  }
  if (swing.capture_rate_ratio != 1.0) {
    ledger.add("Capture rate over file’s rate", rounded_words(swing.capture_rate_ratio, 4, ""));
  }
}

}  // namespace

std::string swing_dial(const SwingMeasurement& swing) {
  if (!swing.release_angle_rad || !swing.rise_angle_rad) return {};
  const double release_rad = swing.release_angle_rad->value();
  const double rise_rad = swing.rise_angle_rad->value();
  const DialPoint release(release_rad);
  const DialPoint rise(-rise_rad);
  const std::string radius = fixed_text(kRadius, 0);
  const std::string arc = "M" + release.x + " " + release.y + " A" + radius + " " + radius +
                          " 0 " + (release_rad + rise_rad > kPi ? "1" : "0") + " 0 " + rise.x +
                          " " + rise.y;
  const std::string name = "Released at " + angle_words(*swing.release_angle_rad) +
                           ", rose to " + angle_words(*swing.rise_angle_rad) + ".";
  return "<div class=\"dial\"><svg viewBox=\"0 0 200 166\" role=\"img\" aria-label=\"" +
         html_text(name) +
         "\">"
         "<rect x=\"176\" y=\"" +
         release.y + "\" width=\"12\" height=\"" +
         fixed_text(std::max(0.0, kRadius * (std::cos(rise_rad) - std::cos(release_rad))), 1) +
         "\" fill=\"var(--warm)\"/>"
         "<path d=\"M" +
         release.x + " " + release.y + " H194 M" + rise.x + " " + rise.y +
         " H194\" stroke=\"var(--muted)\" stroke-width=\"1\" stroke-dasharray=\"3 4\" "
         "fill=\"none\"/>"
         "<path d=\"" +
         arc + "\" stroke=\"var(--rule)\" stroke-width=\"2\" fill=\"none\"/>" +
         arm_to(release, "muted", "2") + arm_to(rise, "accent", "3") + "<circle cx=\"" +
         release.x + "\" cy=\"" + release.y +
         "\" r=\"6\" fill=\"var(--panel)\" stroke=\"var(--muted)\" stroke-width=\"2\"/>"
         "<circle cx=\"" +
         rise.x + "\" cy=\"" + rise.y +
         "\" r=\"7\" fill=\"var(--accent)\"/>"
         "<circle cx=\"96\" cy=\"80\" r=\"4\" fill=\"var(--ink)\"/></svg></div>\n";
}

std::string energy_ledger(const BarResult& bar) {
  if (!bar.swing) return {};
  const SwingMeasurement& swing = bar.swing->measurement;
  Ledger ledger;
  if (swing.release_angle_rad) ledger.add("Release α", angle_words(*swing.release_angle_rad));
  if (swing.rise_angle_rad) ledger.add("Rise β", angle_words(*swing.rise_angle_rad));
  ledger.add("Height not regained, M(cos β − cos α)", swing.raw_absorbed_J, "J");
  ledger.add("Bearing and air on this path", swing.friction_J, "J");
  if (swing.absorbed_J) {
    const bool beyond = swing.censoring == Censoring::Right;
    ledger.add_sum(beyond ? "Energy available; the bar took more" : "Taken by the bar",
                   with_u_words(*swing.absorbed_J, "J"));
  }
  if (bar.specimen.thickness_mm && bar.specimen.width_mm) {
    ledger.add("Section h × b<sub>N</sub>",
               section_words(*bar.specimen.thickness_mm, *bar.specimen.width_mm));
  }
  add_checks(ledger, swing);
  return ledger.html();
}

std::string source_list(const std::vector<SourceFamily>& families, const std::string& unit) {
  if (families.empty()) return {};
  const double largest = families.front().u;
  std::string html = "<ul class=\"sources\">\n";
  for (const SourceFamily& family : families) {
    const std::string width = fixed_text(largest > 0.0 ? 100.0 * family.u / largest : 0.0, 0);
    html += std::string("<li") + (family.is_shared ? " class=\"shared\"" : "") + "><span>" +
            html_name(family.name) +
            (family.is_shared ? " <span class=\"muted\">(shared)</span>" : "") +
            "</span><span class=\"track\" aria-hidden=\"true\"><span style=\"width:" + width +
            "%\"></span></span><span class=\"num\">" +
            html_text(rounded_words(family.u, 2, unit)) + "</span></li>\n";
  }
  return html + "</ul>\n";
}

}  // namespace swingloss
