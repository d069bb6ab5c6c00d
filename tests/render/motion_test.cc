// SPDX-License-Identifier: Apache-2.0
#include "render/motion.h"

#include "support/test.h"

#include <cmath>

using namespace swingloss;
using namespace swingloss::render;
using test::to_truncation;

namespace {

RenderScene breaking(double absorbed_J) {
  RenderScene scene;
  scene.absorbed_J = absorbed_J;
  scene.length_s = 1.6;
  return scene;
}

double deg(double rad) { return Angle::from_rad(rad).deg(); }

}  // namespace

TEST_CASE("energies of a break add up", "[render]") {
  for (const double absorbed_J : {0.0, 0.3, 1.2, 3.0}) {
    CAPTURE(absorbed_J);
    const RenderSwingTruth truth = swing_motion(breaking(absorbed_J)).swings().at(0);
    const double m = RenderRig{}.moment_Nm;
    const double height_J = m * (std::cos(Angle::from_deg(truth.rise_deg).rad()) -
                                 std::cos(Angle::from_deg(truth.release_deg).rad()));
    CHECK(truth.broken);
    CHECK(truth.friction_J > 0.0);
    // Integration error (see swing_integrator_test) and the turn from radian to degree.
    CHECK_THAT(height_J, to_truncation(absorbed_J + truth.friction_J, 1e-10));
  }
}

TEST_CASE("more energy than the hammer has cannot be taken", "[render]") {
  CHECK_THROWS_AS(swing_motion(breaking(3.5)), std::logic_error);
}

TEST_CASE("a free swing is one without a bar", "[render]") {
  RenderScene scene;
  const RenderSwingTruth truth = swing_motion(scene).swings().at(0);
  CHECK_FALSE(truth.broken);
  CHECK_FALSE(truth.absorbed_J);
  const double turned_rad = next_turning_point_rad(scene.rig, Angle::from_deg(125.0).rad());
  // The same integration with one step cut in two at the end of the clip: rounding only.
  CHECK_THAT(truth.rise_deg, to_truncation(-deg(turned_rad), 1e-10));
}

TEST_CASE("angle and event times agree", "[render]") {
  const Motion motion = swing_motion(breaking(1.2));
  const RenderSwingTruth& truth = motion.swings().at(0);
  CHECK(motion.theta_rad(0.0) == motion.theta_rad(truth.release_s));
  // Cubic interpolation over h = 0.2 ms: h^4 / 384 times a fourth derivative below w0^4 = 1e4.
  const double bound_rad = std::pow(2e-4, 4) / 384.0 * 1e4;
  CHECK_THAT(motion.theta_rad(*truth.blow_s), to_truncation(0.0, bound_rad));
  CHECK_THAT(deg(motion.theta_rad(*truth.turn_s)), to_truncation(-truth.rise_deg, 1e-9));
  CHECK(deg(motion.theta_rad(*truth.turn_s - 0.01)) > -truth.rise_deg);
  CHECK(deg(motion.theta_rad(*truth.turn_s + 0.01)) > -truth.rise_deg);
}

TEST_CASE("the speed jumps at the blow and nowhere else", "[render]") {
  const Motion motion = swing_motion(breaking(1.2));
  const double blow_s = *motion.swings().at(0).blow_s;
  const auto speed = [&](double t_s) {
    return (motion.theta_rad(t_s + 1e-4) - motion.theta_rad(t_s - 1e-4)) / 2e-4;
  };
  const double m =
      RenderRig{}.moment_Nm * RenderRig{}.reduced_length_m / RenderRig{}.gravity_m_per_s2;
  const double before = speed(blow_s - 2e-4);
  const double after = speed(blow_s + 2e-4);
  // 1/2 I (w1^2 - w2^2) = 1.2 J, each w taken 0.2 ms beside the blow, where friction (below
  // 0.06 N m, 10 rad/s) may take 0.6 W for 0.4 ms.
  CHECK_THAT(0.5 * m * (before * before - after * after), to_truncation(1.2, 0.6 * 4e-4));
}

TEST_CASE("the rise of a clip that ends too early is still known", "[render]") {
  RenderScene scene = breaking(1.2);
  const RenderSwingTruth whole = swing_motion(scene).swings().at(0);
  scene.length_s = *whole.turn_s - 0.1;
  const RenderSwingTruth cut = swing_motion(scene).swings().at(0);
  CHECK(whole.turn_s);
  CHECK_FALSE(cut.turn_s);
  // The integration's steps differ from where the clip ends.
  CHECK_THAT(cut.rise_deg, to_truncation(whole.rise_deg, 1e-9));
}

TEST_CASE("an unbroken bar stops the hammer within a few degrees and throws it back",
          "[render]") {
  RenderScene scene;
  scene.breaks = false;
  const Motion motion = swing_motion(scene);
  const RenderSwingTruth& truth = motion.swings().at(0);
  CHECK_FALSE(truth.broken);
  CHECK(truth.rise_deg < -5.0);
  CHECK(truth.rise_deg > -45.0);
  const double deepest_deg = deg(motion.lowest_rad(motion.end_s()));
  CHECK(deepest_deg < -2.0);
  CHECK(deepest_deg > -3.5);
}

TEST_CASE("a drag pointer goes up with the arm and stays there", "[render]") {
  const Motion motion = swing_motion(breaking(1.2));
  const RenderSwingTruth& truth = motion.swings().at(0);
  CHECK(motion.lowest_rad(*truth.blow_s - 0.01) == 0.0);
  CHECK(motion.lowest_rad(*truth.blow_s + 0.1) < -0.3);
  // Knots are at most 0.2 ms apart, 2e-9 rad below the top; the turning point is one itself.
  CHECK_THAT(deg(motion.lowest_rad(motion.end_s())), to_truncation(-truth.rise_deg, 1e-9));
}

TEST_CASE("a rest in another take starts at once", "[render]") {
  RenderScene scene = breaking(1.2);
  scene.rest_s = 0.5;
  const Motion motion = swing_motion(scene);
  CHECK(motion.cut_s() == motion.end_s() - 0.5);
  CHECK(motion.theta_rad(motion.cut_s() - 1e-3) != 0.0);
  CHECK(motion.theta_rad(motion.cut_s() + 1e-3) == 0.0);
}

TEST_CASE("a braked rest comes without a jump", "[render]") {
  RenderScene scene = breaking(1.2);
  scene.length_s = 4.0;
  scene.rest_s = 0.5;
  scene.rest = RenderRest::Braked;
  const Motion motion = swing_motion(scene);
  double largest_rad = 0.0;
  for (double t_s = 0.0; t_s + 0.001 < motion.end_s(); t_s += 0.001) {
    largest_rad =
        std::max(largest_rad, std::abs(motion.theta_rad(t_s + 0.001) - motion.theta_rad(t_s)));
  }
  CHECK(largest_rad < 0.0101);  // 10 rad/s at the blow
  CHECK(motion.theta_rad(motion.end_s() - 0.45) == 0.0);
}

TEST_CASE("one recording may hold several swings", "[render]") {
  RenderScene scene;
  scene.absorbed_J.reset();
  scene.further.push_back({110.0, 0.9, true, 1.6});
  scene.further.push_back({125.0, std::nullopt, false, 1.6});
  const Motion motion = swing_motion(scene);
  REQUIRE(motion.swings().size() == 3);
  const auto& swings = motion.swings();
  CHECK_FALSE(swings[0].absorbed_J);
  CHECK(swings[1].absorbed_J == 0.9);
  CHECK(swings[1].broken);
  CHECK_FALSE(swings[2].broken);
  CHECK(swings[0].turn_s < swings[1].release_s);
  CHECK(motion.lowest_rad(swings[2].release_s) == 0.0);
}
