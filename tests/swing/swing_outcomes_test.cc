// SPDX-License-Identifier: Apache-2.0
/// \file swing_outcomes_test.cc
/// What measure_swing says of clips that are not the usual one.
#include "core/angle.h"
#include "support/test.h"
#include "swing/made_rigs.h"
#include "swing/measure_swing.h"
#include "swing/measured.h"

#include <algorithm>
#include <cmath>
#include <string>

using namespace swingloss;
using namespace swingloss::test;

namespace {

MadeClip stopped(double thrown_back, double at_rad = 0.0) {
  MadeBar bar;
  bar.breaks = false;
  bar.thrown_back = thrown_back;
  bar.at_rad = at_rad;
  MadeClip clip{MadeRig{}};
  clip.cut_to(125.0).still(0.4).free(2.0, bar);
  return clip;
}

MadeBar bar(double absorbs = 0.63) {
  MadeBar b;
  b.absorbs = absorbs;
  return b;
}

}  // namespace

TEST_CASE("a bar that throws the hammer back is right-censored", "[swing]") {
  for (const double at_rad : {0.0, -0.1}) {
    CAPTURE(at_rad);
    const MadeClip clip = stopped(0.1, at_rad);
    const SwingMeasurement m = measured(clip);
    CHECK(m.outcome == Outcome::NotBroken);
    CHECK(m.censoring == Censoring::Right);
    REQUIRE(m.rise_angle_rad.has_value());
    CHECK(m.rise_angle_rad->value() < 0.0);
    CHECK_THAT(deg(*m.rise_angle_rad),
               to_uncertainty(clip.rise_deg(), u_deg(*m.rise_angle_rad)));
    // Energy at the bottom of a frictional fall: an independent path, friction from the balance
    // of a free swing's first quarter is 0.0267 of 1.5736 M; the model's own u is 1e-4.
    const double available = (1.0 - std::cos(Angle::from_deg(125.0).rad())) * kMadeMoment_Nm;
    CHECK(m.absorbed_J->value() < available);
    CHECK(m.absorbed_J->value() > 0.97 * available);
    CHECK_FALSE(m.speed_drop.has_value());
  }
}

TEST_CASE("a bar that stops the hammer is right-censored and has no rise", "[swing]") {
  const SwingMeasurement m = measured(stopped(0.0));
  CHECK(m.outcome == Outcome::NotBroken);
  CHECK(m.censoring == Censoring::Right);
  CHECK(m.absorbed_J.has_value());
  CHECK_FALSE(m.rise_angle_rad.has_value());
  CHECK(says(m, "bar-not-broken"));
}

TEST_CASE("a free swing is called one, with its friction", "[swing]") {
  const MadeClip clip = usual_free_swing();
  const SwingMeasurement m = measured(clip, false);
  CHECK(m.outcome == Outcome::FreeSwing);
  CHECK_FALSE(m.absorbed_J.has_value());
  CHECK_THAT(deg(*m.rise_angle_rad), to_uncertainty(clip.rise_deg(), u_deg(*m.rise_angle_rad)));
  REQUIRE(m.friction_fitted.has_value());
  const MadeRig rig;
  const FrictionModel& f = *m.friction_fitted;
  CHECK_THAT(f.dry_Nm.value() / kMadeMoment_Nm,
             to_uncertainty(rig.law.dry, f.dry_Nm.u() / kMadeMoment_Nm));
  CHECK_THAT(f.quadratic_Nms2.value() * 25.0 / kMadeMoment_Nm,
             to_uncertainty(rig.law.quadratic, f.quadratic_Nms2.u() * 25.0 / kMadeMoment_Nm));
}

TEST_CASE("a weak bar is told from friction", "[swing][synthetic]") {
  // A twentieth of M: 3 % of the energy, less than friction takes on the way.
  for (const bool friction_known : {true, false}) {
    CAPTURE(friction_known);
    const SwingMeasurement m = measured(usual_blow(0.05), friction_known);
    CHECK(m.outcome == Outcome::Broken);
    REQUIRE(m.absorbed_J.has_value());
    CHECK_THAT(m.absorbed_J->value(), to_uncertainty(0.05 * kMadeMoment_Nm, m.absorbed_J->u()));
  }
}

TEST_CASE("a nearly spent hammer is still a broken bar", "[swing][synthetic]") {
  const MadeClip clip = usual_blow(1.50);
  const SwingMeasurement m = measured(clip);
  CHECK(m.outcome == Outcome::Broken);
  CHECK_THAT(m.absorbed_J->value(), to_uncertainty(1.50 * kMadeMoment_Nm, m.absorbed_J->u()));
}

TEST_CASE("a clip that ends before the turning point refuses the rise alone", "[swing]") {
  const MadeClip clip = usual_blow();
  MadeSampling sampling;
  sampling.to_s = clip.turn_s() - 0.04;
  const SwingMeasurement m = measured(clip.sampled(sampling));
  CHECK(m.outcome == Outcome::Unclear);
  CHECK(says(m, "turn-not-seen"));
  CHECK_FALSE(m.rise_angle_rad.has_value());
  CHECK_FALSE(m.absorbed_J.has_value());
  REQUIRE(m.release_angle_rad.has_value());
  CHECK_THAT(deg(*m.release_angle_rad), to_uncertainty(125.0, u_deg(*m.release_angle_rad)));
}

TEST_CASE("a clip that ends at the blow says so", "[swing]") {
  const MadeClip clip = usual_blow();
  MadeSampling sampling;
  sampling.to_s = clip.blow_s() + 0.03;
  const SwingMeasurement m = measured(clip.sampled(sampling));
  CHECK(m.outcome == Outcome::Unclear);
  CHECK((says(m, "clip-ends-at-blow") || says(m, "turn-not-seen")));
  CHECK_FALSE(m.rise_angle_rad.has_value());
}

TEST_CASE("a clip that starts in mid-swing refuses the release", "[swing]") {
  const MadeClip clip = usual_blow();
  MadeSampling sampling;
  sampling.from_s = 0.55;
  const SwingMeasurement m = measured(clip.sampled(sampling));
  CHECK(m.outcome == Outcome::Unclear);
  CHECK(says(m, "release-not-seen"));
  CHECK_FALSE(m.release_angle_rad.has_value());
  CHECK_FALSE(m.absorbed_J.has_value());
  REQUIRE(m.rise_angle_rad.has_value());
  CHECK_THAT(deg(*m.rise_angle_rad), to_uncertainty(clip.rise_deg(), u_deg(*m.rise_angle_rad)));

  // A latch says where it fell from; then nothing is missing.
  Pendulum latched = made_pendulum(true);
  latched.release_angle_rad = Uncertain::from(
      Angle::from_deg(125.02).rad(), 0.001, "rig.release-angle", SourceKind::Shared);
  const auto known = measure_swing(clip.sampled(sampling), &latched);
  REQUIRE(known.ok());
  CHECK(known.value().outcome == Outcome::Broken);
  CHECK_THAT(known.value().absorbed_J->value(),
             to_uncertainty(0.63 * kMadeMoment_Nm, known.value().absorbed_J->u()));
}

TEST_CASE("a latch that the clip contradicts is named and not used", "[swing]") {
  Pendulum rig = made_pendulum(true);
  rig.release_angle_rad = Uncertain::from(
      Angle::from_deg(120.0).rad(), 0.002, "rig.release-angle", SourceKind::Shared);
  const auto m = measure_swing(usual_blow().sampled({}), &rig);
  REQUIRE(m.ok());
  CHECK(says(m.value(), "release-not-latch"));
  CHECK_THAT(deg(*m.value().release_angle_rad),
             to_uncertainty(125.0, u_deg(*m.value().release_angle_rad)));
}

TEST_CASE("practice swings and second blows are named", "[swing]") {
  MadeClip practice{MadeRig{}};
  practice.cut_to(125).still(0.5).free(2.3).carried(60, 0.5).carried(125, 1.0).still(0.5);
  practice.free(2.0, bar());
  const SwingMeasurement first = measured(practice);
  CHECK(first.outcome == Outcome::Broken);
  CHECK(says(first, "practice-swing"));
  CHECK_THAT(first.absorbed_J->value(),
             to_uncertainty(0.63 * kMadeMoment_Nm, first.absorbed_J->u()));

  MadeClip twice{MadeRig{}};
  twice.cut_to(125).still(0.5).free(1.3, bar(0.4)).carried(60, 0.5).carried(125, 1.0);
  twice.still(0.5).free(2.0, bar(0.7));
  const SwingMeasurement both = measured(twice);
  CHECK(says(both, "two-blows"));
  CHECK_THAT(both.absorbed_J->value(),
             to_uncertainty(0.4 * kMadeMoment_Nm, both.absorbed_J->u()));
}

TEST_CASE("a hand that catches the arm later does not touch the result", "[swing]") {
  MadeClip clip{MadeRig{}};
  clip.cut_to(125).still(0.4).free(1.3, bar()).carried(-20, 0.3).carried(0, 0.6).still(0.5);
  const SwingMeasurement m = measured(clip);
  CHECK(m.outcome == Outcome::Broken);
  CHECK_THAT(m.absorbed_J->value(), to_uncertainty(0.63 * kMadeMoment_Nm, m.absorbed_J->u()));
}

TEST_CASE("a rest stretch serves zero where it is one", "[swing][synthetic]") {
  MadeClip clip{MadeRig{}};
  clip.cut_to(125).still(0.4).free(1.05, bar()).cut_to(0.0).still(1.0);
  const SwingMeasurement with = measured(clip);
  const SwingMeasurement without = measured(usual_blow(0.63, 0.6));
  CHECK(u_deg(*with.zero_rad) < u_deg(*without.zero_rad));
  const auto zero = [](const Contribution& c) { return c.source == "zero"; };
  CHECK(std::any_of(with.absorbed_J->parts().begin(), with.absorbed_J->parts().end(), zero));

  MadeClip leaning{MadeRig{}};
  leaning.cut_to(125).still(0.4).free(2.0, bar()).cut_to(-2.0).still(1.0);
  const SwingMeasurement m = measured(leaning);
  CHECK(says(m, "rest-not-zero"));
  CHECK_THAT(deg(*m.zero_rad), to_uncertainty(0.0, u_deg(*m.zero_rad)));
}

TEST_CASE("a zero from elsewhere is weighed in", "[swing]") {
  SwingOptions options;
  options.zero_rad = Uncertain::from(0.0, 1e-5, "zero", SourceKind::Shared);
  const Pendulum rig = made_pendulum(true);
  const auto m = measure_swing(usual_blow(0.63, 0.6).sampled({}), &rig, options);
  REQUIRE(m.ok());
  CHECK(m.value().zero_rad->u() < 1.1e-5);
}
