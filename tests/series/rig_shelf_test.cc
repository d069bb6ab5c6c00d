// SPDX-License-Identifier: Apache-2.0
#include "series/rig_shelf.h"

#include "core/angle.h"
#include "series/free_swing_findings.h"
#include "support/has_remark.h"
#include "support/test.h"

#include <cmath>
#include <random>

using namespace swingloss;
using Catch::Contains;

namespace {

constexpr double kMoment_Nm = 2.0;
constexpr double kNatural_rad_per_s = 5.0;

/// Dry and quadratic loss torques.
struct Losses {
  double dry_Nm = 0.0, quadratic_Nms2 = 0.0;
};

Pendulum pendulum() {
  Pendulum rig;
  rig.moment_Nm = Uncertain::from(kMoment_Nm, 0.002, "rig.moment", SourceKind::Shared);
  rig.gravity_m_per_s2 = Uncertain::exact(9.8);
  rig.reduced_length_m = Uncertain::exact(9.8 / (kNatural_rad_per_s * kNatural_rad_per_s));
  return rig;
}

/// Six seconds of free swing at 60 pictures/s, held for half a second at 120 degrees first;
/// stepped by a leapfrog of 20 microseconds.
SwingRecord free_swing(const Losses& losses, unsigned seed) {
  constexpr double kStep_s = 2e-5;
  constexpr double kU_rad = 3e-4;
  const double scale = kNatural_rad_per_s * kNatural_rad_per_s / kMoment_Nm;  // 1 / inertia
  std::mt19937 generator(seed);
  std::normal_distribution<double> noise(0.0, kU_rad);
  SwingRecord record;
  record.clip = "free.mp4";
  double theta = 120.0 * kPi / 180.0;
  double omega = 0.0;
  const int steps_a_picture = static_cast<int>(std::lround(1.0 / 60.0 / kStep_s));
  for (int picture = 0; picture < 390; ++picture) {
    record.arm.angles.samples.push_back(
        {picture * steps_a_picture * kStep_s, theta + noise(generator), kU_rad, picture});
    for (int i = 0; i < steps_a_picture && picture >= 30; ++i) {
      const double sign = omega > 0.0 ? 1.0 : omega < 0.0 ? -1.0 : 0.0;
      const double torque_Nm = kMoment_Nm * std::sin(theta) + losses.dry_Nm * sign +
                               losses.quadratic_Nms2 * omega * std::abs(omega);
      omega -= kStep_s * scale * torque_Nm;
      theta += kStep_s * omega;
    }
  }
  return record;
}

}  // namespace

TEST_CASE("losses of the rig come back from its free swings, shared by all bars",
          "[series][synthetic]") {
  const Losses truth = {0.006, 0.0009};
  const FreeSwingFindings found =
      findings_of({free_swing(truth, 1), free_swing(truth, 2)}, pendulum());
  REQUIRE(found.friction.has_value());
  CHECK(found.remarks.empty());
  const FrictionModel& friction = *found.friction;
  CHECK_THAT(friction.dry_Nm.value(), test::to_uncertainty(truth.dry_Nm, friction.dry_Nm.u()));
  CHECK_THAT(friction.quadratic_Nms2.value(),
             test::to_uncertainty(truth.quadratic_Nms2, friction.quadratic_Nms2.u()));
  // u itself is the fit's promise (tests/swing); here only that it is neither lost nor absurd.
  CHECK(friction.dry_Nm.u() > 0.0);
  CHECK(friction.dry_Nm.u() < 0.2 * truth.dry_Nm);
  CHECK(friction.dry_Nm.u(SourceKind::Own) == 0.0);
  CHECK(friction.quadratic_Nms2.u(SourceKind::Own) == 0.0);
}

TEST_CASE("a free swing that shows nothing is a warning and the others are used", "[series]") {
  SwingRecord nothing;
  nothing.clip = "dark.mp4";
  nothing.arm.remarks.push_back({"no-pendulum", Severity::Refusal, "No arm was seen."});
  const FreeSwingFindings found =
      findings_of({nothing, free_swing({0.006, 0.0009}, 1)}, pendulum());
  CHECK(found.friction.has_value());
  REQUIRE(found.remarks.size() == 1);
  CHECK(found.remarks[0].severity == Severity::Warning);
  CHECK_THAT(found.remarks[0].text, Contains("dark.mp4") && Contains("No arm was seen."));
  CHECK_FALSE(findings_of({nothing}, pendulum()).friction.has_value());
  CHECK_FALSE(findings_of({}, pendulum()).friction.has_value());
}

TEST_CASE("a bar's own rig goes before the series' default", "[series]") {
  SeriesPlan plan;
  Specimen specimen;
  CHECK(rig_file_of(specimen, plan) == "rig.json");
  plan.rig = "big.json";
  CHECK(rig_file_of(specimen, plan) == "big.json");
  specimen.rig = "small.json";
  CHECK(rig_file_of(specimen, plan) == "small.json");
}

TEST_CASE("the surest free swing tells the rig's length, and that is said", "[series]") {
  Rig rig = read_rig_text(R"({"format": "swingloss/rig/1", "name": "bench",
    "moment_Nm": {"value": 2.0, "u": 0.002}, "gravity_m_per_s2": {"value": 9.8, "u": 0.0001},
    "reduced_length_m": {"value": 0.3915, "u": 0.0006}})",
                          "rig.json");
  const auto swing_of = [](double natural_rad_per_s, double u, Outcome outcome) {
    SwingRecord record = free_swing({0.006, 0.0009}, 1);
    record.measurement.outcome = outcome;
    record.measurement.natural_rad_per_s =
        Uncertain::from(natural_rad_per_s, u, "tracking[1]", SourceKind::Own);
    return record;
  };
  const std::vector<SwingRecord> swings = {swing_of(5.004, 1.5e-3, Outcome::FreeSwing),
                                           swing_of(5.0, 2e-4, Outcome::FreeSwing),
                                           swing_of(5.006, 1e-4, Outcome::Broken)};
  const FreeSwingFindings findings = findings_of(swings, rig.pendulum);
  REQUIRE(findings.reduced_length_m.has_value());
  take_in(findings, rig);
  CHECK(rig.pendulum.friction.has_value());
  // l = g / w0^2 of the second one.
  CHECK_THAT(rig.pendulum.reduced_length_m.value(), test::to_truncation(9.8 / 25.0, 1e-4));
  CHECK(rig.pendulum.reduced_length_m.u() < 0.0003);
  CHECK(test::has_remark(rig.remarks, "length-by-free-swing"));
  const Rig again = read_rig_text(rig_text(rig), "rig.json");
  // To what a file's decimals keep.
  CHECK_THAT(again.pendulum.reduced_length_m.value(),
             test::to_rounding(rig.pendulum.reduced_length_m.value(), 8));
}
