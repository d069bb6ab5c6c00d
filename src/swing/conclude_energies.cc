// SPDX-License-Identifier: Apache-2.0
#include "core/angle.h"
#include "core/number_text.h"
#include "swing/blow.h"
#include "swing/capture_ratio.h"
#include "swing/conclude.h"
#include "swing/energy.h"
#include "swing/swept_angle_rules.h"
#include "swing/swing_path.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

void add(SwingMeasurement& m,
         const std::string& code,
         Severity severity,
         const std::string& text) {
  m.remarks.push_back({code, severity, text});
}

void set_speeds(const Explained& e,
                const Pendulum& pendulum,
                const Uncertain& ratio,
                SwingMeasurement& m) {
  if (!pendulum.strike_radius_m) return;
  const std::optional<BottomSpeed> down =
      fall_to_bottom(e.fit.parameters[e.places().amplitude(0)], e.law().law());
  if (!down) return;
  const Uncertain& amplitude_rad = e.values[static_cast<std::size_t>(e.places().amplitude(0))];
  const UncertainLaw law = e.law();
  const Uncertain omega = Uncertain::combine(down->omega,
                                             {{down->omega_by[kByAmplitude], &amplitude_rad},
                                              {down->omega_by[kByDry], &law.dry},
                                              {down->omega_by[kByLinear], &law.linear},
                                              {down->omega_by[kByQuadratic], &law.quadratic}});
  m.impact_speed_m_per_s = ratio * *m.natural_rad_per_s * omega * *pendulum.strike_radius_m;
  if (!m.release_angle_rad) return;
  m.textbook_speed_m_per_s = textbook_speed_m_per_s(pendulum.gravity_m_per_s2.value(),
                                                    pendulum.strike_radius_m->value(),
                                                    m.release_angle_rad->value());
}

/// The path is taken to change speed at hanging rest. A bar met up to two degrees to either
/// side (uniform) changes the drag on that bit of the path from one speed's to the other's.
Uncertain place_of_blow_J(const Explained& e, const Pendulum& pendulum) {
  const double place_rad = 2.0 / 3.0 * kContact_rad / std::sqrt(3.0);
  const SwingLaw law = e.law().law();
  const std::optional<BottomEnergies> energies = bottom_energies(e);
  const double drop = energies ? energies->drop().value() : 0.0;
  const double speed = energies ? std::sqrt(2.0 * energies->before.value()) : 0.0;
  const double after = energies ? std::sqrt(std::max(0.0, 2.0 * energies->after.value())) : 0.0;
  const double drag = 2.0 * law.quadratic * drop + law.linear * (speed - after);
  return Uncertain::from(0.0,
                         pendulum.moment_Nm.value() * place_rad * std::abs(drag),
                         "blow.place",
                         SourceKind::Own);
}

void set_friction(const Explained& e, const Pendulum& pendulum, SwingMeasurement& m) {
  if (!m.release_angle_rad) return;
  std::optional<Uncertain> rise = m.rise_angle_rad;
  if (m.outcome == Outcome::NotBroken) rise.reset();
  if (m.outcome != Outcome::NotBroken && !rise) return;
  const UncertainLaw law = e.law();
  m.friction_J = friction_work_J(pendulum.moment_Nm, law, *m.release_angle_rad, rise);
  if (m.friction_J && m.outcome != Outcome::FreeSwing) {
    m.friction_J = *m.friction_J + place_of_blow_J(e, pendulum);
  }
  m.friction_swept_J = swept_friction_J(pendulum.moment_Nm, law, *m.release_angle_rad, rise);
  if (!m.friction_J || !m.friction_swept_J) return;
  const Uncertain difference = *m.friction_J - *m.friction_swept_J;
  const double released =
      pendulum.moment_Nm.value() * (1.0 - std::cos(m.release_angle_rad->value()));
  const double doubt = std::max(2.0 * m.friction_J->u(), 2e-4 * released);
  if (std::abs(difference.value()) > doubt) {
    add(m,
        "friction-rules-differ",
        Severity::Note,
        "Friction by the loss torque along the path is " +
            significant_text(m.friction_J->value(), 3) +
            " J, by the standards' rule of swept "
            "angle " +
            significant_text(m.friction_swept_J->value(), 3) + " J; the first was used.");
  }
}

/// What of the loss in the fit is the clip's own knowledge.
void set_friction_fitted(const Explained& e, const Pendulum& pendulum, SwingMeasurement& m) {
  const Uncertain& release = e.values[static_cast<std::size_t>(e.places().amplitude(0))];
  const Uncertain fixed = Uncertain::exact(release.value());
  const UncertainLaw law = e.law();
  const std::optional<Uncertain> prior =
      friction_work_J(Uncertain::exact(1.0),
                      e.problem.law_prior,
                      fixed,
                      Uncertain::exact(0.9 * release.value()));
  const std::optional<Uncertain> found = friction_work_J(
      Uncertain::exact(1.0), law, fixed, Uncertain::exact(0.9 * release.value()));
  if (!prior || !found) return;
  const bool known = !pendulum.friction && found->u() < 0.15 * found->value();
  const bool learnt = found->u() < 0.5 * prior->u();
  if (known || (pendulum.friction && learnt)) m.friction_fitted = friction_of(law, pendulum);
  if (!pendulum.friction && !known && m.friction_J) {
    add(m,
        "friction-unknown",
        Severity::Warning,
        "The rig file has no friction and the clip does not show enough of the decay: friction "
        "on this path is taken as " +
            significant_text(m.friction_J->value(), 2) + " J with " +
            significant_text(m.friction_J->u(), 2) +
            " J of uncertainty. Film a free swing and let the rig command work it out.");
  }
}

void set_absorbed(const ClipFits& fits,
                  const Pendulum& pendulum,
                  const CaptureRatio& capture,
                  SwingMeasurement& m) {
  if (m.outcome == Outcome::NotBroken && m.friction_J) {
    m.absorbed_J = height_energy_J(pendulum.moment_Nm, *m.release_angle_rad) - *m.friction_J;
    m.censoring = Censoring::Right;
    return;
  }
  if (!m.release_angle_rad || !m.rise_angle_rad) return;
  if (m.outcome != Outcome::Broken && m.outcome != Outcome::FreeSwing) return;
  m.raw_absorbed_J =
      raw_absorbed_J(pendulum.moment_Nm, *m.release_angle_rad, *m.rise_angle_rad);
  if (m.outcome != Outcome::Broken || !m.friction_J) return;
  m.absorbed_J = *m.raw_absorbed_J - *m.friction_J;
  // With a rate that is only guessed, speeds are no second opinion.
  if (!capture.is_understood) return;
  const std::optional<Uncertain> by_speeds_J =
      absorbed_by_speeds_J(fits.apart, pendulum, capture.ratio);
  if (!by_speeds_J) return;
  const Uncertain difference = *by_speeds_J - *m.absorbed_J;
  const bool agrees = std::abs(difference.value()) <= 3.0 * difference.u();
  m.speed_drop = SpeedDropCheck{*by_speeds_J, agrees};
  if (!agrees) {
    add(m,
        "speeds-disagree",
        Severity::Warning,
        "The speeds before and after the blow give " +
            significant_text(by_speeds_J->value(), 3) + " J, the heights " +
            significant_text(m.absorbed_J->value(), 3) +
            " J, farther apart than both uncertainties allow. Check the rig's reduced length, "
            "the clip's time, and that the hammer did not slip on its arm.");
  }
}

/// A latch angle is compared, not used, where the clip shows the release.
void compare_latch(const Pendulum& pendulum, SwingMeasurement& m) {
  if (!pendulum.release_angle_rad || !m.release_angle_rad) return;
  const Uncertain difference = *m.release_angle_rad - *pendulum.release_angle_rad;
  if (std::abs(difference.value()) <= 3.0 * difference.u()) return;
  const auto deg = [](double rad) { return fixed_text(Angle::from_rad(rad).deg(), 2); };
  add(m,
      "release-not-latch",
      Severity::Warning,
      "The arm fell from " + deg(m.release_angle_rad->value()) +
          " degrees, the rig file's latch is at " + deg(pendulum.release_angle_rad->value()) +
          "; the measured angle was used.");
}

}  // namespace

SwingMeasurement with_energies(SwingMeasurement angles,
                               const ClipFits& fits,
                               const Pendulum& pendulum) {
  SwingMeasurement m = std::move(angles);
  const Explained& e = fits.best();
  const CaptureRatio capture = capture_ratio(natural_rad_per_s(pendulum), *m.natural_rad_per_s);
  m.capture_rate_ratio = capture.ratio.value();
  if (capture.remark) m.remarks.push_back(*capture.remark);
  if (m.outcome == Outcome::Unclear && !m.release_angle_rad) return m;
  set_speeds(e, pendulum, capture.ratio, m);
  set_friction(e, pendulum, m);
  set_friction_fitted(e, pendulum, m);
  set_absorbed(fits, pendulum, capture, m);
  compare_latch(pendulum, m);
  return m;
}

}  // namespace swingloss
