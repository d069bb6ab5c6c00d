// SPDX-License-Identifier: Apache-2.0
#include "rig/check_rig.h"

#include "core/angle.h"
#include "rig/nominal_machines.h"
#include "support/test.h"

#include <cmath>
#include <string>

using namespace swingloss;
using namespace swingloss::test;

namespace {

/// A 5.5 J hammer of 0.39 m from 125 degrees, sound but for what a case changes.
Rig bench(const std::string& made_like = "ISO 180") {
  const auto shared = [](double value, double u, const char* source) {
    return Uncertain::from(value, u, source, SourceKind::Shared);
  };
  Rig rig;
  rig.made_like = made_like;
  rig.capacity_J = 5.5;
  rig.pendulum.moment_Nm = shared(3.495, 0.005, "rig.moment");
  rig.pendulum.reduced_length_m = shared(0.391, 0.0004, "rig.reduced-length");
  rig.pendulum.gravity_m_per_s2 = shared(9.80665, 0.0001, "rig.gravity");
  rig.pendulum.strike_radius_m = shared(0.390, 0.0004, "rig.strike-radius");
  rig.pendulum.release_angle_rad =
      shared(Angle::from_deg(125.0).rad(), 0.001, "rig.release-angle");
  rig.pendulum.friction =
      FrictionModel{shared(0.003, 0.0002, "rig.friction-dry"), Uncertain(), Uncertain()};
  return rig;
}

const RigCheck& line(const std::vector<RigCheck>& checks, const std::string& id) {
  for (const RigCheck& check : checks) {
    if (check.id == id) return check;
  }
  FAIL("no check " << id);
  return checks.front();
}

}  // namespace

TEST_CASE("a sound rig passes what can be judged", "[rig]") {
  const auto checks = check_rig(bench());
  for (const char* id :
       {"impact-speed", "percussion-length", "friction", "release-energy", "moment-doubt"}) {
    CAPTURE(id);
    CHECK(line(checks, id).verdict == CheckVerdict::Pass);
    CHECK_FALSE(line(checks, id).source.empty());
  }
  CHECK(line(checks, "usable-window").verdict == CheckVerdict::NotJudged);
}

TEST_CASE("the impact speed is judged against the nominal one of the size", "[rig][truth]") {
  // ISO 13802: Izod 3.5 m/s, Charpy to 5 J 2.9 m/s, from 7.5 J 3.8 m/s, all within 10 %; ASTM
  // D256 3.46 m/s; values from memory.
  const RigCheck izod = line(check_rig(bench()), "impact-speed");
  // R sqrt(g/l) sqrt(2 (1 - cos 125)): written out.
  const double speed =
      0.390 * std::sqrt(9.80665 / 0.391 * 2.0 * (1.0 - std::cos(Angle::from_deg(125.0).rad())));
  CHECK_THAT(izod.measured->value(), to_rounding(speed, 16));
  CHECK_THAT(*izod.low, to_rounding(0.9 * 3.5, 4));
  CHECK_THAT(*izod.high, to_rounding(1.1 * 3.5, 4));
  const RigCheck charpy = line(check_rig(bench("ISO 179-1")), "impact-speed");
  CHECK_THAT(*charpy.high, to_rounding(1.1 * 2.9, 4));
  CHECK(charpy.verdict == CheckVerdict::Fail);
  const RigCheck astm = line(check_rig(bench("ASTM D256")), "impact-speed");
  CHECK_THAT(*astm.low, to_rounding(0.9 * 3.46, 4));
  // A fall of 610 mm, as ASTM D256 asks (from memory), is 3.4589 m/s: within its own window.
  CHECK(3.4589 > *astm.low);
  CHECK(3.4589 < *astm.high);
}

TEST_CASE("a limit inside two standard uncertainties leaves the verdict open", "[rig]") {
  Rig rig = bench();
  rig.pendulum.reduced_length_m =
      Uncertain::from(0.3939, 0.0004, "rig.reduced-length", SourceKind::Shared);
  // 1 % +/- 0.14 %.
  CHECK(line(check_rig(rig), "percussion-length").verdict == CheckVerdict::Unsure);
  rig.pendulum.reduced_length_m =
      Uncertain::from(0.400, 0.0004, "rig.reduced-length", SourceKind::Shared);
  CHECK(line(check_rig(rig), "percussion-length").verdict == CheckVerdict::Fail);
}

TEST_CASE("friction is judged in per cent of the capacity", "[rig][truth]") {
  // Dry friction alone: torque times the angle swept, a free half swing of very nearly 250
  // degrees: 0.003 * 4.36 / 5.5 = 0.24 %; ISO 13802 allows 0.5 % at 5.5 J and 4 % at 0.5 J
  // (from memory).
  const RigCheck check = line(check_rig(bench()), "friction");
  const double swept_rad = Angle::from_deg(250.0).rad();
  // The free rise falls short by 0.26 degrees of the 250.
  CHECK_THAT(check.measured->value(),
             to_truncation(100.0 * 0.003 * swept_rad / 5.5, 0.0015 * 0.24));
  CHECK(*check.high == 0.5);
  CHECK_THAT(limits_of(TestKind::CharpyPlastics).sizes.front().largest_loss_fraction,
             to_rounding(0.04, 0));
  Rig rough = bench();
  rough.pendulum.friction->dry_Nm =
      Uncertain::from(0.02, 0.001, "rig.friction-dry", SourceKind::Shared);
  CHECK(line(check_rig(rough), "friction").verdict == CheckVerdict::Fail);
}

TEST_CASE("the window of use is 10 to 80 per cent, 85 for ASTM", "[rig][truth]") {
  // ISO 13802 and ASTM D256, from memory.
  const RigCheck iso = line(check_rig(bench()), "usable-window");
  CHECK_THAT(*iso.low, to_rounding(0.55, 2));
  CHECK_THAT(*iso.high, to_rounding(4.4, 2));
  CHECK_THAT(*line(check_rig(bench("ASTM D256")), "usable-window").high, to_rounding(4.675, 2));
}

TEST_CASE("an energy off the capacity and a doubtful moment are found", "[rig]") {
  Rig rig = bench();
  rig.capacity_J = 4.0;
  CHECK(line(check_rig(rig), "release-energy").verdict == CheckVerdict::Fail);
  rig.pendulum.moment_Nm = Uncertain::from(3.495, 0.05, "rig.moment", SourceKind::Shared);
  CHECK(line(check_rig(rig), "moment-doubt").verdict == CheckVerdict::Fail);
  rig.com_m = Uncertain::from(0.45, 0.001, "rig.com", SourceKind::Shared);
  CHECK(line(check_rig(rig), "centre-of-mass").verdict == CheckVerdict::Fail);
}

TEST_CASE("what is not known is not judged, and the note says what is missing", "[rig]") {
  Rig rig = bench("");
  rig.pendulum.release_angle_rad.reset();
  rig.pendulum.strike_radius_m.reset();
  rig.pendulum.friction.reset();
  rig.capacity_J.reset();
  for (const RigCheck& check : check_rig(rig)) {
    if (check.id == "moment-doubt") continue;
    CAPTURE(check.id);
    CHECK(check.verdict == CheckVerdict::NotJudged);
    CHECK_FALSE(check.note.empty());
  }
  RigCheckOptions options;
  options.release_angle_rad =
      Uncertain::from(Angle::from_deg(125.0).rad(), 0.001, "release", SourceKind::Own);
  CHECK(line(check_rig(rig, options), "release-energy").measured.has_value());
}

TEST_CASE("standards are known by their usual names", "[rig]") {
  CHECK(test_kind("ISO 179-1") == TestKind::CharpyPlastics);
  CHECK(test_kind("like iso179") == TestKind::CharpyPlastics);
  CHECK(test_kind("DIN EN ISO 180/A") == TestKind::IzodPlastics);
  CHECK(test_kind("ASTM D256") == TestKind::IzodAstm);
  CHECK(test_kind("ISO 148-1") == TestKind::CharpyMetals);
  CHECK(test_kind("ASTM E23") == TestKind::CharpyAstmMetals);
  CHECK_FALSE(test_kind("house rule").has_value());
  CHECK(std::string(name_of(CheckVerdict::NotJudged)) == "not judged");
}
