// SPDX-License-Identifier: Apache-2.0
// Corrections by hand: what is marked becomes an angle, an angle an energy.
#include "series/correct_swing.h"

#include "series/correct_bar.h"
#include "series/picture_angle.h"
#include "support/test.h"
#include "swing_samples.h"

#include <cmath>

namespace swingloss {
namespace {

constexpr double kRad = kPi / 180.0;

/// Friction works come by integrating the path, which is good to 2e-9 rad
/// (tests/swing/swing_path_test.cc), of a rig of 2 N m; without losses they are 0 to that.
constexpr double kByPath_J = 1e-8;

Pendulum pendulum_without_loss(double moment_Nm) {
  Pendulum p;
  p.moment_Nm = Uncertain::from(moment_Nm, 0.01, "rig.moment", SourceKind::Shared);
  p.gravity_m_per_s2 = Uncertain::exact(9.80665);
  p.reduced_length_m = Uncertain::exact(0.39);
  p.friction = FrictionModel{};
  return p;
}

Correction typed(CorrectionKind kind, double deg, double u_deg = 0.1) {
  Correction c;
  c.number = 10 + static_cast<int>(kind);
  c.kind = kind;
  c.bar = "K1";
  c.why = "seen in the picture";
  c.angle_rad = deg * kRad;
  c.u_rad = u_deg * kRad;
  return c;
}

SwingRecord without_friction() {
  SwingRecord record = test::broken_swing();
  record.measurement.friction_J = Uncertain();
  return record;
}

}  // namespace

TEST_CASE("a point in the picture gives back the angle it was drawn at", "[series]") {
  SwingRecord record = test::broken_swing();
  for (double deg = -175.0; deg < 180.0; deg += 12.5) {
    const auto point = arm_end_in_picture_px(record.arm, deg * kRad);
    const auto angle = angle_in_picture_rad(record.arm.view, point);
    REQUIRE(angle);
    // Newton stops at a step of 1e-12 of the arm's length.
    CHECK_THAT(*angle, test::to_truncation(deg * kRad, 1e-9));
  }
  CHECK_FALSE(angle_in_picture_rad(record.arm.view, record.arm.view.axle_px));
}

TEST_CASE("typed angles give M (cos rise - cos release), and their u its derivative",
          "[series]") {
  const Pendulum rig = pendulum_without_loss(2.0);
  const auto swing =
      correct_swing(without_friction(),
                    {typed(CorrectionKind::Release, 120.0), typed(CorrectionKind::Rise, 60.0)},
                    &rig);
  CHECK(swing.not_used.empty());
  const SwingMeasurement& m = swing.record.measurement;
  REQUIRE(m.absorbed_J);
  // cos 60 - cos 120 = 1: the moment itself. The path's bound is above.
  CHECK_THAT(m.absorbed_J->value(), test::to_truncation(2.0, kByPath_J));
  const double by_angle_J = 2.0 * std::sin(60.0 * kRad) * 0.1 * kRad;
  const double u_J = std::sqrt(2.0 * by_angle_J * by_angle_J + 0.01 * 0.01);
  CHECK_THAT(m.absorbed_J->u(), test::to_truncation(u_J, kByPath_J));
  CHECK(m.absorbed_J->u(SourceKind::Own) > 0.0);
}

TEST_CASE("a bar that is said to have held took more than the height it fell", "[series]") {
  const Pendulum rig = pendulum_without_loss(2.0);
  Correction held = typed(CorrectionKind::Outcome, 0.0);
  held.outcome = Outcome::NotBroken;
  const auto swing =
      correct_swing(without_friction(), {typed(CorrectionKind::Release, 90.0), held}, &rig);
  REQUIRE(swing.record.measurement.absorbed_J);
  CHECK(swing.record.measurement.censoring == Censoring::Right);
  // 1 - cos 90 degrees; the path's bound is above.
  CHECK_THAT(swing.record.measurement.absorbed_J->value(), test::to_truncation(2.0, kByPath_J));
}

TEST_CASE("another rest moves release and rise by as much, one up and one down", "[series]") {
  for (const bool mirrored : {false, true}) {
    CAPTURE(mirrored);
    const Pendulum rig = pendulum_without_loss(2.0);
    SwingRecord record = test::broken_swing(mirrored);
    record.measurement.friction_J = Uncertain();
    const double side = mirrored ? -1.0 : 1.0;
    const auto swing =
        correct_swing(record, {typed(CorrectionKind::Rest, -1.5 + 0.5 * side)}, &rig);
    const SwingMeasurement& m = swing.record.measurement;
    // The samples have release 125, rise 84 and rest -1.5 degrees; a few sums of each.
    CHECK_THAT(m.release_angle_rad->value(), test::to_rounding(124.5 * kRad, 16));
    CHECK_THAT(m.rise_angle_rad->value(), test::to_rounding(84.5 * kRad, 16));
    const double energy_J = 2.0 * (std::cos(84.5 * kRad) - std::cos(124.5 * kRad));
    CHECK_THAT(m.absorbed_J->value(), test::to_truncation(energy_J, kByPath_J));
  }
}

TEST_CASE("a mark in the picture is the angle typed", "[series]") {
  const Pendulum rig = pendulum_without_loss(2.0);
  SwingRecord record = without_friction();
  const double rise_rad = 80.0 * kRad;
  // Rest at -1.5 degrees; the view's doubts move the last sample by half of -1e-3 rad.
  const double in_picture_rad = -1.5 * kRad - rise_rad - 0.5e-3;
  Correction mark = typed(CorrectionKind::Rise, 0.0);
  mark.angle_rad.reset();
  mark.point_px = arm_end_in_picture_px(record.arm, in_picture_rad);
  mark.t_s = 0.75;
  const auto swing = correct_swing(record, {mark}, &rig);
  CHECK(swing.not_used.empty());
  // As the first test: Newton's last step.
  CHECK_THAT(swing.record.measurement.rise_angle_rad->value(),
             test::to_truncation(rise_rad, 1e-8));
}

TEST_CASE("losses follow the new path and stay as measured on the old one", "[series]") {
  Pendulum rig = pendulum_without_loss(2.0);
  rig.friction->dry_Nm = Uncertain::from(0.01, 0.001, "rig.friction-dry", SourceKind::Shared);
  SwingRecord record = test::broken_swing();
  const auto same = correct_swing(
      record, {typed(CorrectionKind::Release, 125.0), typed(CorrectionKind::Rise, 84.0)}, &rig);
  // Same path: the two friction works cancel but for rounding of 0.1 J.
  CHECK_THAT(same.record.measurement.friction_J->value(), test::to_truncation(0.125, 1e-9));
  const auto shorter = correct_swing(record, {typed(CorrectionKind::Rise, 64.0)}, &rig);
  // A dry torque takes torque times angle: 20 degrees less. The path's integrator is good to
  // 2e-9 rad.
  CHECK_THAT(shorter.record.measurement.friction_J->value(),
             test::to_truncation(0.125 - 0.01 * 20.0 * kRad, 1e-7));
}

TEST_CASE("what cannot be is not used, and said", "[series]") {
  const Pendulum rig = pendulum_without_loss(2.0);
  const auto above =
      correct_swing(without_friction(), {typed(CorrectionKind::Rise, 140.0)}, &rig);
  REQUIRE(above.not_used.size() == 1);
  CHECK_THAT(above.not_used.begin()->second, Catch::Contains("as high as the release"));
  // Nothing was used, so everything stands as measured.
  CHECK(above.record.measurement.absorbed_J->value() == 2.5);
  SwingRecord nothing;
  Correction axle = typed(CorrectionKind::Axle, 0.0);
  axle.point_px = Eigen::Vector2d(10.0, 10.0);
  axle.u_px = 2.0;
  CHECK(correct_swing(nothing, {axle}, &rig).not_used.size() == 1);
}

TEST_CASE("about another axle the arm's ends stay and the angles follow", "[series]") {
  SwingRecord record = test::broken_swing();
  record.arm.view.tilt_x_rad = record.arm.view.tilt_y_rad = 0.0;
  const Eigen::Vector2d axle = record.arm.view.axle_px + Eigen::Vector2d(3.0, -4.0);
  const ArmTrack moved = arm_about(record.arm, axle, 1.5, ":K1");
  for (std::size_t i = 0; i < record.arm.angles.samples.size(); ++i) {
    const Eigen::Vector2d end =
        arm_end_in_picture_px(record.arm, record.arm.angles.samples[i].theta_rad);
    const Eigen::Vector2d along = end - axle;
    const double by_hand_rad = std::atan2(along.x(), along.y());
    // Square to the camera the picture is the plane: no more than Newton's last step.
    CHECK_THAT(std::remainder(moved.angles.samples[i].theta_rad - by_hand_rad, 2.0 * kPi),
               test::to_truncation(0.0, 1e-9));
  }
  const SharedDoubt& x = moved.angles.doubts[moved.angles.doubts.size() - 4];
  CHECK(x.source == "hand.axle-x:K1");
  for (std::size_t i = 0; i < record.arm.angles.samples.size(); ++i) {
    const Eigen::Vector2d along =
        arm_end_in_picture_px(record.arm, record.arm.angles.samples[i].theta_rad) - axle;
    // d atan2(x, y) / dx = y / r2, and the next term of the series: (1.5 px / 240 px) squared.
    CHECK_THAT(
        x.shape_rad[static_cast<Eigen::Index>(i)],
        test::to_truncation(-1.5 * along.y() / along.squaredNorm(), std::pow(1.5 / 240.0, 2)));
  }
  // What is changed is told to the last digit of a sum; nothing else is.
  const ViewVector tilted = moved.angles.doubts.back().view;
  CHECK_THAT(x.view[0], test::to_rounding(1.5, 512));
  CHECK(x.view.tail<4>().isZero(0.0));
  CHECK_THAT(tilted[3], test::to_rounding(record.arm.tilt_u_rad, 16));
  CHECK(tilted.head<3>().isZero(0.0));
  CHECK(moved.view_rest.isZero(0.0));
}

TEST_CASE("section, letter and leaving out by hand reach the bar", "[series]") {
  Specimen specimen;
  specimen.id = "T1";
  specimen.material = "Korvel";
  specimen.energy_J = 1.0;
  specimen.thickness_mm = 4.0;
  specimen.width_mm = 8.0;
  Correction section = typed(CorrectionKind::Section, 0.0);
  section.thickness_mm = 5.0;
  section.width_mm = 10.0;
  section.u_mm = 0.1;
  Correction letter = typed(CorrectionKind::BreakType, 0.0);
  letter.break_type = BreakType::Hinge;
  const Correction out = typed(CorrectionKind::LeaveOut, 0.0);
  const Correction rise = typed(CorrectionKind::Rise, 60.0);
  const BarResult bar = conclude_typed_by_hand(specimen, {}, {section, letter, out, rise});
  // 1 J over 50 mm2, and a quotient's rounding.
  CHECK_THAT(bar.bar.strength_kJ_m2->value(), test::to_rounding(20.0, 4));
  CHECK_THAT(bar.bar.strength_kJ_m2->u(), test::to_rounding(20.0 * std::hypot(0.02, 0.01), 8));
  CHECK(bar.bar.break_type == BreakType::Hinge);
  CHECK(bar.bar.left_out);
  CHECK(bar.bar.left_out_reason == "seen in the picture");
  REQUIRE(bar.corrections.size() == 4);
  CHECK(bar.corrections[0].automatic == "4.00 \u00D7 8.00 mm (u 0.020 mm)");
  CHECK(bar.corrections[0].by_hand == "5.00 \u00D7 10.00 mm (u 0.10 mm)");
  CHECK_FALSE(bar.corrections[3].not_used.empty());
}

TEST_CASE("the arm is drawn where a camera that reads line by line shows it", "[series]") {
  ArmTrack arm;
  arm.view.axle_px = {480.0, 100.0};
  arm.view.principal_px = {480.0, 270.0};
  arm.view.focal_px = 1000.0;
  arm.view.readout_s = 0.020;
  arm.arm_length_px = 200.0;
  for (int i = 0; i < 3; ++i) arm.angles.samples.push_back({0.01 * i, 0.2 + 0.1 * i, 1e-4, i});
  // A quotient of differences of a few tenths.
  CHECK_THAT(rate_rad_per_s(arm.angles, 1), test::to_rounding(10.0, 16));
  // Likewise.
  CHECK_THAT(rate_rad_per_s(arm.angles, 2), test::to_rounding(10.0, 16));
  const Eigen::Vector2d end = arm_end_in_picture_px(arm, 0.3, 10.0);
  // 541 rows, the middle one read at the picture's time.
  const double late_s = 0.020 * (end.y() - 270.0) / 541.0;
  const Eigen::Vector2d there = arm_end_in_picture_px(arm, 0.3 + 10.0 * late_s);
  // A twentieth of a twentieth of a twentieth of the 4 px that it moves.
  CHECK_THAT((end - there).norm(), test::to_truncation(0.0, 0.001));
  CHECK((end - arm_end_in_picture_px(arm, 0.3)).norm() > 0.5);
}

}  // namespace swingloss
