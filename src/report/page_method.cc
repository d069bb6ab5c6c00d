// SPDX-License-Identifier: Apache-2.0
#include "core/number_text.h"
#include "report/escape.h"
#include "report/html.h"
#include "report/page_sections.h"
#include "rig/cautions.h"

#include <algorithm>

namespace swingloss {
namespace {

constexpr const char* kEnergyMethod = R"(
<h3>Energy</h3>
<p>A pendulum that falls from the angle α and, after the blow, rises to β has not regained a part of its height. With the moment
M = m·g·L of the arm, known from weighing, that height is an energy:</p>
<p class="equation"><var>W</var><sub>raw</sub> = <var>M</var> (cos β − cos α)</p>
<p>Bearing and air took a part of it on the way. It is integrated along this very swing with the torque</p>
<p class="equation">τ = −(τ<sub>c</sub> sgn ω + <var>k</var><sub>1</sub> ω + <var>k</var><sub>2</sub> ω|ω|)</p>
<p>and taken off. The older rule, loss in proportion to the angle swept (ISO 13802; ASTM D256 has one of its own), is computed as well and shown
beside it. What remains was taken by the bar, and by the piece that flew off. Divided by the section under the notch it is the impact strength
(ISO 179-1, ISO 180):</p>
<p class="equation"><var>a</var> = (<var>W</var><sub>raw</sub> − <var>W</var><sub>f</sub>) / (<var>h</var> · <var>b</var><sub>N</sub>)</p>
<p>A second estimate uses the speeds just before and after the blow, ½<var>I</var>(ω<sub>1</sub>² − ω<sub>2</sub>²) with
<var>I</var> = <var>M</var>ℓ/<var>g</var>. It needs true time, which the heights do not, so the two check one another.</p>
)";

constexpr const char* kTypedMethod = R"(
<h3>Energy</h3>
<p>No bar was filmed: the energies were typed as another instrument gave them, and nothing was taken off or added. Their uncertainty is what was
typed beside them. Where the section under the notch is given, the energy divided by it is the impact strength (ISO 179-1, ISO 180):</p>
<p class="equation"><var>a</var> = <var>W</var> / (<var>h</var> · <var>b</var><sub>N</sub>)</p>
)";

constexpr const char* kAngleMethod = R"(
<h3>Angles</h3>
<p>The arm is followed through every picture. A camera that does not look square at the plane of swing falsifies angles, so the law of the pendulum
itself is fitted to the whole track, and with it what the pictures left in doubt (tilt of the camera, place of the axle):</p>
<p class="equation">θ″ = −(<var>g</var>/ℓ) sin θ + τ/<var>I</var></p>
<p>Zero, release, blow and first turning point come from that fit. Pictures that straddle the blow are in neither the fall’s fit nor the rise’s.</p>
)";

constexpr const char* kDoubtMethod = R"(
<h3>Uncertainty</h3>
<p>Every value carries its sources of doubt by name (JCGM 100: the Guide to the expression of uncertainty in measurement). Sources of one name are
one quantity: the moment of a rig touches all its bars alike, and cancels when two of its groups are compared. Each ± is one standard uncertainty.</p>
<h3>Ranking</h3>
<p>A group is one material in one condition and orientation. A bar that stopped the hammer is not a number but a bound: it enters through the
likelihood of lying above it. Groups are compared two by two (Welch’s test where every bar has a value, a likelihood ratio where some have bounds),
corrected for the number of pairs (Holm, 1979), and get letters (Piepho, 2004): two groups without a common letter differ. The probability of each place
comes from drawing the groups’ means many times, with shared sources drawn once for all.</p>
)";

/// From memory where a standard's text was not at hand; check against the standard before
/// relying on a clause.
constexpr const char* kSources = R"(
<h3>Sources</h3>
<ul class="cautions">
<li>ISO 179‑1, Plastics: determination of Charpy impact properties, part 1. ISO 180, Plastics: determination of Izod impact strength. Break types,
strength per section.</li>
)";

constexpr const char* kRigSources =
    R"(<li>ISO 13802, Plastics: verification of pendulum impact-testing machines. ASTM D256. Loss by friction in proportion to the swept angle; limits of the rig.</li>
)";

constexpr const char* kStatisticsSources =
    R"(<li>JCGM 100:2008, Guide to the expression of uncertainty in measurement. JCGM 101:2008, propagation of distributions by Monte Carlo.</li>
<li>B. L. Welch, Biometrika 34 (1947) 28–35, means of groups of unequal scatter; Biometrika 38 (1951) 330–336, several means at once.</li>
<li>S. Holm, Scandinavian Journal of Statistics 6 (1979) 65–70, several tests at once.</li>
<li>H.-P. Piepho, Journal of Computational and Graphical Statistics 13 (2004) 456–466, letters for all pairs.</li>
<li>R. J. Olsen, Econometrica 46 (1978) 1211–1215, mean of values of which some are known only as a bound.</li>
<li>E. C. Fieller, Journal of the Royal Statistical Society B 16 (1954) 175–185, interval of a ratio.</li>
</ul>
<p class="muted">Clauses of the standards are used from memory; look them up before quoting them.</p>
)";

}  // namespace

bool has_filmed_bar(const SeriesResult& series) {
  return std::any_of(series.bars.begin(), series.bars.end(), [](const BarResult& bar) {
    return bar.swing.has_value() || !bar.specimen.clip.empty();
  });
}

std::string method_section(const SeriesResult& series) {
  const bool filmed = has_filmed_bar(series);
  std::string html = "<div class=\"method\">";
  html += filmed ? kEnergyMethod : kTypedMethod;
  if (filmed) html += kAngleMethod;
  html += kDoubtMethod;
  html += "</div>\n";
  if (series.section_u_mm > 0.0) {
    html +=
        "<p class=\"muted\">Sizes of the section were typed; each is taken with a standard "
        "uncertainty of " +
        number_text(series.section_u_mm) + " mm.</p>\n";
  }
  html += kSources;
  if (filmed) html += kRigSources;
  html += kStatisticsSources;
  return html_section("method", filmed ? "How it was measured" : "How it was worked out", html);
}

std::string cautions_section(const SeriesResult& series) {
  const bool filmed = has_filmed_bar(series);
  std::string html =
      std::string("<p class=\"lead\"><strong>This is not an accredited test.</strong> ") +
      (filmed ? "The numbers come from a camera and a home-made or calibrated-at-home "
                "instrument."
              : "The energies were typed and are taken as they stand.") +
      " They are for comparing bars that were made and broken alike, not for "
      "certificates, design allowables or claims about "
      "a product.</p>\n";
  if (series.rendered_or_invented)
    html +=
        "<p><strong>The data of this report are invented or rendered.</strong> They show what "
        "the program does and say nothing about any real material.</p>\n";
  if (!filmed) return html_section("cautions", "Cautions", html);
  html += "<h3>At the rig</h3>\n<ul class=\"cautions\">\n";
  for (const std::string& caution : safety_cautions())
    html += "<li>" + html_text(caution) + "</li>\n";
  html += "</ul>\n";
  return html_section("cautions", "Cautions", html);
}

}  // namespace swingloss
