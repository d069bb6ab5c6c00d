// SPDX-License-Identifier: Apache-2.0
#include "swing/swept_angle_rules.h"

#include "core/angle.h"
#include "support/test.h"
#include "swing/energy.h"

using namespace swingloss;
using namespace swingloss::test;

namespace {
double rad(double deg) { return Angle::from_deg(deg).rad(); }
}  // namespace

TEST_CASE("the three published friction rules are one", "[swing][truth]") {
  // Algebra of ISO 148-2, ASTM D256, ISO 13802 (forms from memory): p = 0.02, p1 = 0.03,
  // beta/alpha = 0.6 give 0.036 J in all three (reference values, 1.5).
  const FreeSwingLoss loss{0.02, 0.03};
  const SweptAngles angles{rad(150), rad(90), rad(150), rad(150)};
  // Four or five roundings each.
  CHECK_THAT(swept_loss_iso148_J(loss, angles), to_rounding(0.036, 8));
  CHECK_THAT(swept_loss_d256_J(loss, 0.6), to_rounding(0.036, 8));
  CHECK_THAT(swept_loss_iso13802_J(loss, 0.6), to_rounding(0.036, 8));
}

TEST_CASE("the worked friction correction comes out", "[swing][truth]") {
  // M = 160.769515 N m (300 J at 150 degrees), free swings to 149.2 with the pointer, 149.5
  // without, 147.0 after ten more half swings; corrections at 0, 90, 120 degrees (reference
  // values, friction.iso148_formulas; the formula from memory).
  const double moment_Nm = 160.7695154586736;
  const auto drop_J = [&](double low, double high) {
    return raw_absorbed_J(Uncertain::exact(moment_Nm),
                          Uncertain::exact(rad(high)),
                          Uncertain::exact(rad(low)))
        .value();
  };
  const FreeSwingLoss loss{drop_J(149.2, 149.5), drop_J(147.0, 149.5) / 10.0};
  // Differences of cosines near 150 degrees: eps M against 0.4 J.
  CHECK_THAT(loss.pointer_J, to_truncation(0.42913620127273866, 1e-13));
  CHECK_THAT(loss.bearing_J, to_truncation(0.3691041791211439, 1e-13));
  const auto at = [&](double rise_deg) {
    return swept_loss_iso148_J(loss, {rad(150), rad(rise_deg), rad(149.2), rad(149.5)});
  };
  CHECK_THAT(at(0.0), to_truncation(0.18486018987703368, 1e-13));
  CHECK_THAT(at(90.0), to_truncation(0.5546386236058443, 1e-13));
  CHECK_THAT(at(120.0), to_truncation(0.6778981015154477, 1e-13));
}

TEST_CASE("for dry friction the swept-angle rule is exact", "[swing]") {
  // Dry torque does work in proportion to the angle: the rule and the integral must agree.
  const UncertainLaw law{Uncertain::exact(0.004), Uncertain(), Uncertain()};
  const Uncertain release = Uncertain::exact(rad(130));
  const Uncertain rise = Uncertain::exact(rad(60));
  const Uncertain moment = Uncertain::exact(4.0);
  const auto swept = swept_friction_J(moment, law, release, rise);
  const auto model = friction_work_J(moment, law, release, rise);
  REQUIRE(swept.has_value());
  // The integrator's 2e-8 in speed, times M.
  CHECK_THAT(swept->value(), to_truncation(model->value(), 2e-7));
  const UncertainLaw air{Uncertain(), Uncertain(), Uncertain::exact(0.004)};
  // Air takes its share where the arm is fast, so the rule overstates it for a slow rise.
  CHECK(swept_friction_J(moment, air, release, rise)->value() >
        1.1 * friction_work_J(moment, air, release, rise)->value());
}
