// SPDX-License-Identifier: Apache-2.0
// The rig's own rate as something that a clip's fit knows beforehand.
#include "support/test.h"
#include "swing/capture_ratio.h"
#include "swing/made_rigs.h"
#include "swing/measured.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <random>

using namespace swingloss;
using namespace swingloss::test;

namespace {

Uncertain rate(double value, double relative_u, const char* source) {
  return Uncertain::from(value, relative_u * value, source, SourceKind::Shared);
}

/// Held, let fall, stopped and thrown back a little: half an arc, and hanging rest never seen.
MadeClip thrown_back() {
  MadeBar bar;
  bar.breaks = false;
  bar.thrown_back = 0.1;
  MadeClip clip{MadeRig{}};
  clip.cut_to(118.0).still(0.4).free(0.9, bar);
  return clip;
}

}  // namespace

TEST_CASE("the rig's rate is good to its length and to the clip's clock", "[swing]") {
  const Uncertain by_rig = rate(5.0, 3e-4, "rig.reduced-length");
  const auto vague = rate_by_rig(by_rig, rate(5.2, 1.0, "tracking[1]"));
  REQUIRE(vague.has_value());
  // Two clips of a hundred have a clock that is off by one in a thousand, one fast, one slow.
  const double mixed = 1e-3 * std::sqrt(0.02);
  // The mean of these, to what 1 / 1.001 differs from 0.999 and a clip without say adds.
  CHECK_THAT(vague->value(), to_truncation(5.0, 5.0 * 1e-6));
  // Their deviation, likewise.
  CHECK_THAT(vague->u(), to_truncation(5.0 * std::hypot(3e-4, 5e-5, mixed), 5.0 * 1e-6));
}

TEST_CASE("a clip that tells its clock gets that one", "[swing]") {
  const Uncertain by_rig = rate(5.0, 5e-5, "rig.reduced-length");
  for (const double pace : {1.0, 1.001, 1.0 / 1.001}) {
    const auto known = rate_by_rig(by_rig, rate(5.0 * pace, 1e-4, "tracking[1]"));
    REQUIRE(known.has_value());
    // The two others lie eight or more deviations away.
    CHECK_THAT(known->value(), to_truncation(5.0 * pace, 5.0 * 1e-7));
    // Of length and crystal alone.
    CHECK_THAT(known->u(), to_truncation(5.0 * std::hypot(5e-5, 5e-5), 5.0 * 1e-7));
  }
  // Between two clocks the common one has more say, and the doubt is as large as their distance
  // allows.
  const auto between = rate_by_rig(by_rig, rate(5.0 * 1.0007, 2e-4, "tracking[1]"));
  REQUIRE(between.has_value());
  CHECK(between->value() > 5.0);
  CHECK(between->value() < 5.0 * 1.0005);
  CHECK(between->u() > 5.0 * 2e-4);
}

TEST_CASE("a clip that contradicts the rig's rate is left alone with its own", "[swing]") {
  const Uncertain by_rig = rate(5.0, 3e-4, "rig.reduced-length");
  CHECK_FALSE(rate_by_rig(by_rig, rate(5.0 / 8.0, 1e-3, "tracking[1]")).has_value());
  CHECK_FALSE(rate_by_rig(by_rig, rate(5.03, 1e-3, "tracking[1]")).has_value());
}

TEST_CASE("half an arc gains by the rig's rate, and says what it leans on",
          "[swing][synthetic]") {
  const MadeClip clip = thrown_back();
  const AngleTrack track = clip.sampled({});
  Result<SwingMeasurement> alone = measure_swing(track, nullptr, {});
  REQUIRE(alone.ok());
  const SwingMeasurement m = measured(track);
  CHECK(m.outcome == Outcome::NotBroken);
  CHECK(m.release_angle_rad->u() < 0.8 * alone.value().release_angle_rad->u());
  const auto& parts = m.release_angle_rad->parts();
  CHECK(std::any_of(
      parts.begin(), parts.end(), [](const auto& p) { return p.source == "clip.clock"; }));
}

TEST_CASE("what the rig's rate gives half an arc is stated truly", "[swing][synthetic]") {
  constexpr int kSeeds = 200;
  const MadeClip clip = thrown_back();
  std::mt19937_64 draws(4711);
  std::discrete_distribution<int> clock({98.0, 1.0, 1.0});
  const double pace[] = {1.0, 1.001, 1.0 / 1.001};
  Scores release, natural;
  for (int seed = 1; seed <= kSeeds; ++seed) {
    MadeSampling sampling;
    sampling.seed = static_cast<std::uint64_t>(seed);
    sampling.time_scale = pace[clock(draws)];
    const SwingMeasurement m = measured(clip.sampled(sampling), drawn_pendulum(draws));
    release.add(deg(*m.release_angle_rad), clip.release_deg(), u_deg(*m.release_angle_rad));
    natural.add(
        m.natural_rad_per_s->value(), 5.0 / sampling.time_scale, m.natural_rad_per_s->u());
  }
  // Four deviations of the mean of 200 squared scores, sqrt(2 / 200) each.
  CHECK_THAT(release.mean(), to_truncation(1.0, 0.4));
  CHECK_THAT(natural.mean(), to_truncation(1.0, 0.4));
}
