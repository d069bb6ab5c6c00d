// SPDX-License-Identifier: Apache-2.0
/// \file swing_samples.h
/// A made-up record with every field filled.
#pragma once

#include "core/angle.h"
#include "series/swing_record.h"

namespace swingloss::test {

/// A broken bar: release 125 deg, rise 84 deg, 2.5 J taken; zero at -1.5 deg of the picture.
/// \param mirrored  the release side is where the picture's angles are negative
inline SwingRecord broken_swing(bool mirrored = false) {
  constexpr double kRad = kPi / 180.0;
  const double side = mirrored ? -1.0 : 1.0;
  const double zero_rad = -1.5 * kRad;
  SwingRecord record;
  record.clip = "clips/K1.mp4";
  ArmTrack& arm = record.arm;
  const std::vector<double> angle_deg = {125.0, 60.0, -50.0, -84.0};
  // The view is half a deviation off: each angle is moved by half of its shape.
  const Eigen::Vector4d doubt(1e-3, 2e-3, 1e-3, -1e-3);
  for (std::size_t i = 0; i < angle_deg.size(); ++i) {
    const double t_s = 0.25 * static_cast<double>(i);
    const double moved_rad = 0.5 * doubt[static_cast<Eigen::Index>(i)];
    arm.angles.samples.push_back({t_s,
                                  zero_rad + side * angle_deg[i] * kRad + moved_rad,
                                  0.02 * kRad,
                                  static_cast<int>(2 * i)});
  }
  arm.angles.doubts.push_back(
      {"view.tilt-x", doubt, {}, (ViewVector() << 0.5, 0.25, 0.003, -0.001, 0.02).finished()});
  arm.view.axle_px = {480.5, 130.25};
  arm.view.tilt_x_rad = 2.0 * kRad;
  arm.view.tilt_y_rad = -1.0 * kRad;
  arm.view.focal_px = 1030.0;
  arm.view.principal_px = {479.5, 269.5};
  arm.tilt_u_rad = 0.3 * kRad;
  arm.view_rest.diagonal() << 0.04, 0.09, 2e-6, 1e-6, 1e-4;
  arm.view_rest(2, 3) = arm.view_rest(3, 2) = -3e-7;
  arm.why_mode = "no tag and no dots were seen";
  arm.arm_length_px = 260.0;
  arm.exposure_s = 0.004;
  arm.clip = {960, 540, 60.0, TimeSource::TimeStamps, 90, 1.0, 157, "h264", "mp4"};
  arm.frames = 156;
  arm.remarks.push_back({"clip-cut-off", Severity::Warning, "The clip ends in mid-picture."});

  SwingMeasurement& m = record.measurement;
  m.outcome = Outcome::Broken;
  const auto own = [](double value, double u, const char* source) {
    return Uncertain::from(value, u, source, SourceKind::Own, 41.0);
  };
  m.release_angle_rad = own(125.0 * kRad, 0.04 * kRad, "swing.release");
  m.rise_angle_rad = own(84.0 * kRad, 0.05 * kRad, "swing.rise");
  m.direction = side;
  m.doubt_scores = {own(0.5, 0.8, "tracking[4]")};
  m.time_jitter_s = 1e-4;
  m.residual_inefficiency = 1.25;
  m.zero_rad = own(zero_rad, 0.03 * kRad, "swing.zero");
  m.natural_rad_per_s = own(5.0, 0.01, "swing.w0");
  m.absorbed_J = Uncertain::from(2.5, 0.004, "rig.moment", SourceKind::Shared) -
                 own(0.0, 0.003, "swing.rise");
  m.raw_absorbed_J = own(2.625, 0.005, "swing.rise");
  m.friction_J = own(0.125, 0.01, "friction.dry");
  m.friction_swept_J = own(0.1, 0.02, "friction.dry");
  m.impact_speed_m_per_s = own(3.5, 0.01, "swing.speed");
  m.textbook_speed_m_per_s = 3.515;
  m.speed_drop = SpeedDropCheck{own(2.4375, 0.06, "swing.speed"), true};
  m.friction_fitted = FrictionModel{
      own(0.007, 0.001, "friction.dry"), Uncertain(), own(0.0011, 2e-4, "friction.quadratic")};
  m.fit_scatter_in_u = 1.1;
  m.events = {0.0, 0.4, 0.75};
  for (const double deg : angle_deg) m.curve.theta_rad.push_back(deg * kRad);
  m.curve.t_s = {0.0, 0.25, 0.5, 0.75};
  m.curve.residual_rad = {1e-4, -1e-4, 1e-4, -1e-4};
  m.curve.used_samples = {0, 1, 2, 3};
  m.remarks.push_back({"short-rest", Severity::Note, "The arm hangs still for 3 frames only."});
  return record;
}

}  // namespace swingloss::test
