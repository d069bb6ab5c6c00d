// SPDX-License-Identifier: Apache-2.0
#include "ranking/plan_hammer.h"

#include "core/angle.h"
#include "core/input_error.h"
#include "core/number_text.h"
#include "ranking/words.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

// Standard acceleration of free fall [m/s^2]; the speed is a guide, not a measurement.
constexpr double kStandardGravity_m_per_s2 = 9.80665;

void require(bool good, const std::string& field, double found, const char* wanted) {
  if (good) return;
  const std::string text =
      std::isfinite(found) ? number_text(found) : "a number that is not finite";
  throw InputError({"", field, text, wanted, "Change it and plan again."});
}

void validate(const Hammer& hammer, const EnergyWindow& window) {
  const std::string of = "hammer " + hammer.name + ", ";
  require(
      hammer.moment_Nm.value() > 0.0, of + "moment", hammer.moment_Nm.value(), "above 0 N·m");
  require(hammer.release_most_rad > 0.0 && hammer.release_most_rad <= kPi,
          of + "highest release",
          Angle::from_rad(hammer.release_most_rad).deg(),
          "above 0 and up to 180 degrees");
  require(window.low > 0.0 && window.low < window.high && window.high <= 1.0,
          "window",
          window.low,
          "0 < low < high <= 1");
}

double friction_of(const Hammer& hammer) {
  return hammer.friction_J ? hammer.friction_J->value() : 0.0;
}

double available_from(const Hammer& hammer, double release_rad) {
  return hammer.moment_Nm.value() * (1.0 - std::cos(release_rad)) - friction_of(hammer);
}

/// Release from which this energy is available.
double release_for(const Hammer& hammer, double available_J) {
  const double lift = (available_J + friction_of(hammer)) / hammer.moment_Nm.value();
  return std::acos(std::clamp(1.0 - lift, -1.0, 1.0));
}

/// The energy law with its doubts, at a release and the rise that makes it the expected one.
Uncertain absorbed_at(const Hammer& hammer, double release_rad, double rise_rad) {
  const Uncertain zero =
      Uncertain::from(0.0, hammer.u_zero_rad, "plan.zero", SourceKind::Shared);
  const Uncertain release =
      Uncertain::from(release_rad, hammer.u_release_rad, "plan.release", SourceKind::Own) +
      zero;
  const Uncertain rise =
      Uncertain::from(rise_rad, hammer.u_rise_rad, "plan.rise", SourceKind::Own) - zero;
  const Uncertain raw = hammer.moment_Nm * (cos(rise) - cos(release));
  return hammer.friction_J ? raw - *hammer.friction_J : raw;
}

ReleaseRow row_at(const Hammer& hammer,
                  double expected_J,
                  double release_rad,
                  const EnergyWindow& window) {
  ReleaseRow row;
  row.release_rad = release_rad;
  row.available_J = available_from(hammer, release_rad);
  row.used_fraction = row.available_J > 0.0 ? expected_J / row.available_J : 2.0;
  row.in_window = row.used_fraction >= window.low && row.used_fraction <= window.high;
  if (hammer.strike_radius_m) {
    row.impact_speed_m_per_s =
        std::sqrt(2.0 * kStandardGravity_m_per_s2 * *hammer.strike_radius_m *
                  (1.0 - std::cos(release_rad)));
  }
  if (row.used_fraction > 1.0) return row;
  const double cos_rise =
      std::cos(release_rad) + (expected_J + friction_of(hammer)) / hammer.moment_Nm.value();
  row.rise_rad = std::acos(std::clamp(cos_rise, -1.0, 1.0));
  row.absorbed_J = absorbed_at(hammer, release_rad, *row.rise_rad);
  return row;
}

std::string range_words(double low, double high) {
  return low == high ? value_words(low) + " J"
                     : value_words(low) + " to " + value_words(high) + " J";
}

std::string degrees_words(double rad) {
  return fixed_text(Angle::from_rad(rad).deg(), 1) + "°";
}

void explain(HammerChoice& choice,
             double low_J,
             double high_J,
             double most_rad,
             const EnergyWindow& window) {
  const std::string expected = range_words(low_J, high_J);
  if (choice.suits) {
    choice.words = expected + " suits a release of " + degrees_words(*choice.release_low_rad) +
                   " to " + degrees_words(*choice.release_high_rad) + ".";
    if (*choice.release_high_rad < most_rad - 0.01) {
      choice.words +=
          " That is below its highest release: the blow is slower than the hammer's "
          "usual one, and energies of printed plastics change with speed.";
    }
  } else if (high_J > window.high * choice.available_J) {
    choice.words = "Too small: " + expected + " is more than " + share_words(window.high) +
                   " of the " + value_words(choice.available_J) + " J it has.";
  } else {
    choice.words = "The range " + expected +
                   " is too wide for one release: its lower end would be "
                   "less than " +
                   share_words(window.low) + " of the energy; split the bars.";
  }
}

}  // namespace

std::vector<ReleaseRow> plan_release(const Hammer& hammer,
                                     double expected_J,
                                     const std::vector<double>& releases_rad,
                                     const EnergyWindow& window) {
  validate(hammer, window);
  require(expected_J > 0.0, "expected energy", expected_J, "above 0 J");
  std::vector<ReleaseRow> rows;
  for (const double release_rad : releases_rad) {
    require(release_rad > 0.0 && release_rad <= hammer.release_most_rad,
            "release angle",
            Angle::from_rad(release_rad).deg(),
            "above 0 and up to the hammer's highest, in degrees");
    rows.push_back(row_at(hammer, expected_J, release_rad, window));
  }
  return rows;
}

std::vector<HammerChoice> choose_hammer(const std::vector<Hammer>& hammers,
                                        double expected_low_J,
                                        double expected_high_J,
                                        const EnergyWindow& window) {
  require(expected_low_J > 0.0, "expected energy", expected_low_J, "above 0 J");
  require(expected_high_J >= expected_low_J, "expected energy", expected_high_J, "low <= high");
  std::vector<HammerChoice> choices;
  std::optional<std::size_t> best;
  for (const Hammer& hammer : hammers) {
    validate(hammer, window);
    HammerChoice choice;
    choice.name = hammer.name;
    choice.available_J = available_from(hammer, hammer.release_most_rad);
    const double least_J = expected_high_J / window.high;
    const double most_J = std::min(expected_low_J / window.low, choice.available_J);
    choice.suits = least_J <= most_J;
    if (choice.suits) {
      choice.release_low_rad = release_for(hammer, least_J);
      choice.release_high_rad = release_for(hammer, most_J);
      const double middle_J = 0.5 * (expected_low_J + expected_high_J);
      const ReleaseRow row = row_at(hammer, middle_J, *choice.release_high_rad, window);
      choice.relative_u = row.absorbed_J->u() / middle_J;
      if (!best || choice.available_J > choices[*best].available_J) best = choices.size();
    }
    explain(choice, expected_low_J, expected_high_J, hammer.release_most_rad, window);
    choices.push_back(choice);
  }
  if (best) choices[*best].recommended = true;
  return choices;
}

}  // namespace swingloss
