// SPDX-License-Identifier: Apache-2.0
#include "core/angle.h"
#include "report/invented_series.h"

#include <cmath>

namespace swingloss::test {
namespace {

constexpr double kRadPerDeg = kPi / 180.0;
constexpr double kMoment_Nm = 2.21;
constexpr double kNatural_rad_per_s = 5.45;

/// A repeatable stand-in for noise: roughly uniform in [-1, 1].
double noise(std::size_t i) {
  const double x = std::sin(12.9898 * static_cast<double>(i + 1)) * 43758.5453;
  return 2.0 * (x - std::floor(x)) - 1.0;
}

/// Position of the arm in time, angle positive on the release side.
struct Motion {
  std::vector<double> t_s, theta_rad;
  double release_s = 0.0, blow_s = 0.0, turn_s = 0.0;
};

/// Falls from rest at `release_deg`, loses speed at the bottom so that it rises to `rise_deg`,
/// and swings on until 2.6 s.
Motion invented_motion(double release_deg, double rise_deg) {
  constexpr double kStep_s = 0.0005;
  Motion motion;
  motion.release_s = 0.4;
  double theta = release_deg * kRadPerDeg;
  double omega = 0.0;
  bool struck = false;
  for (int i = 0; i < 5200; ++i) {
    const double t = i * kStep_s;
    motion.t_s.push_back(t);
    motion.theta_rad.push_back(theta);
    if (t < motion.release_s) continue;
    omega -=
        kStep_s * (kNatural_rad_per_s * kNatural_rad_per_s * std::sin(theta) + 0.05 * omega);
    theta += kStep_s * omega;
    if (!struck && theta <= 0.0) {
      struck = true;
      motion.blow_s = t;
      omega = -2.0 * kNatural_rad_per_s * std::sin(0.5 * rise_deg * kRadPerDeg);
    }
    if (struck && motion.turn_s == 0.0 && omega >= 0.0) motion.turn_s = t;
  }
  return motion;
}

Uncertain own(double value, double u, const std::string& source) {
  return Uncertain::from(value, u, source, SourceKind::Own);
}

Uncertain shared(double value, double u, const std::string& source) {
  return Uncertain::from(value, u, source, SourceKind::Shared);
}

void add_energies(SwingMeasurement& m, double release_deg, double rise_deg) {
  const Uncertain zero = shared(0.0, 0.02 * kRadPerDeg, "view.zero");
  const Uncertain alpha =
      own(release_deg * kRadPerDeg, 0.03 * kRadPerDeg, "fit.release") + zero;
  const Uncertain beta = own(rise_deg * kRadPerDeg, 0.04 * kRadPerDeg, "fit.rise") - zero;
  const Uncertain moment = shared(kMoment_Nm, 0.006, "rig.moment");
  m.release_angle_rad = alpha;
  m.rise_angle_rad = beta;
  m.zero_rad = own(0.013, 0.0004, "view.zero");
  m.natural_rad_per_s = own(kNatural_rad_per_s, 0.004, "fit.natural");
  m.raw_absorbed_J = moment * (cos(beta) - cos(alpha));
  m.friction_J = shared(0.021, 0.002, "rig.friction-dry");
  m.friction_swept_J = shared(0.019, 0.003, "rig.friction-swept");
  m.absorbed_J = *m.raw_absorbed_J - *m.friction_J;
  m.impact_speed_m_per_s = own(3.24, 0.02, "fit.speed");
  m.textbook_speed_m_per_s = 3.259;
  m.speed_drop =
      SpeedDropCheck{own(m.absorbed_J->value() + 0.011, 0.024, "fit.speed-drop"), true};
  m.fit_scatter_in_u = 1.04;
}

}  // namespace

SwingRecord invented_swing(double release_deg, double rise_deg, bool mirrored) {
  const Motion motion = invented_motion(release_deg, rise_deg);
  SwingRecord swing;
  SwingMeasurement& m = swing.measurement;
  const double zero_rad = 0.013;
  const double direction = mirrored ? -1.0 : 1.0;
  for (std::size_t i = 0; i < motion.t_s.size(); i += 8) {
    m.curve.t_s.push_back(motion.t_s[i]);
    m.curve.theta_rad.push_back(motion.theta_rad[i]);
  }
  for (std::size_t frame = 0; 33 * frame < motion.t_s.size(); ++frame) {
    const double u_rad = 0.0006;
    const double error_rad = 1.7 * u_rad * noise(frame);
    const double t_s = motion.t_s[33 * frame];
    const double theta_rad = zero_rad + direction * (motion.theta_rad[33 * frame] + error_rad);
    swing.arm.angles.samples.push_back({t_s, theta_rad, u_rad, static_cast<int>(frame)});
    if (std::abs(t_s - motion.blow_s) < 0.02) continue;
    m.curve.used_samples.push_back(frame);
    m.curve.residual_rad.push_back(error_rad);
  }
  add_energies(m, release_deg, rise_deg);
  m.direction = direction;
  m.outcome = Outcome::Broken;
  m.events = {motion.release_s, motion.blow_s, motion.turn_s};
  swing.arm.mode = TrackMode::Bare;
  swing.arm.why_mode = "No tag and no pair of dots was seen.";
  swing.arm.frames = static_cast<int>(swing.arm.angles.samples.size());
  swing.arm.view.tilt_x_rad = 0.035;
  swing.arm.view.tilt_y_rad = -0.017;
  swing.arm.tilt_u_rad = 0.004;
  swing.arm.clip.codec = "h264";
  swing.arm.clip.width_px = 960;
  swing.arm.clip.height_px = 540;
  return swing;
}

}  // namespace swingloss::test
