// SPDX-License-Identifier: Apache-2.0
#include "swing/length_by_swing.h"

#include "support/test.h"
#include "swing/capture_ratio.h"
#include "swing/made_rigs.h"
#include "swing/swing_law.h"

#include <cmath>

using namespace swingloss;
using namespace swingloss::test;

namespace {

Uncertain rate(double value, double relative_u) {
  return Uncertain::from(value, relative_u * value, "tracking[1]", SourceKind::Own);
}

/// The made rig, its length known to 0.13 % as by a ruler.
Pendulum by_ruler() {
  Pendulum p = made_pendulum(false);
  p.reduced_length_m = Uncertain::from(
      p.reduced_length_m.value(), 5e-4, "rig.reduced-length", SourceKind::Shared);
  return p;
}

}  // namespace

TEST_CASE("a swing tells the reduced length by its rate, to its own doubt and its clock's",
          "[swing]") {
  const Pendulum rig = by_ruler();
  const Uncertain by_clip = rate(5.001, 5e-5);
  const auto length_m = length_by_swing(rig, by_clip);
  REQUIRE(length_m.has_value());
  // l = g / w0^2, but for the clocks, one in a hundred each, that are off by one in a thousand.
  CHECK_THAT(length_m->value(), to_truncation(9.80665 / (5.001 * 5.001), 1e-4));
  CHECK(length_m->u() < 0.5 * rig.reduced_length_m.u());
  // Without the clock's part it would be twice the rate's relative u.
  CHECK(length_m->u() > 2.0 * 1.5 * 5e-5 * length_m->value());

  // For another clip by the same clock that clock's part drops out again.
  Pendulum known = rig;
  known.reduced_length_m = *length_m;
  const auto prior = rate_by_rig(natural_rad_per_s(known), by_clip);
  REQUIRE(prior.has_value());
  // The rate of the first clip, as it was.
  CHECK_THAT(prior->value(), to_truncation(5.001, 5.001 * 2e-4));
  CHECK(prior->u() < 5.001 * 7e-5);
}

TEST_CASE("a swing that tells the length no better, or plays slowly, is not asked", "[swing]") {
  const Pendulum rig = by_ruler();
  const double file_u = 0.5 * 5e-4 / rig.reduced_length_m.value();
  CHECK_FALSE(length_by_swing(rig, rate(5.0, 0.9 * file_u)).has_value());
  CHECK(length_by_swing(rig, rate(5.0, 0.7 * file_u)).has_value());
  CHECK_FALSE(length_by_swing(rig, rate(5.0 / 8.0, 5e-5)).has_value());
  CHECK_FALSE(length_by_swing(rig, rate(5.05, 5e-5)).has_value());
}
