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

/// A rig whose owner knows the length to 0.03 %, one of many that he might have.
Pendulum drawn_rig(std::mt19937_64& draws) {
  Pendulum rig = made_pendulum(true);
  std::normal_distribution<double> off(0.0, rig.reduced_length_m.u());
  rig.reduced_length_m = Uncertain::from(rig.reduced_length_m.value() + off(draws),
                                         rig.reduced_length_m.u(),
                                         "rig.reduced-length",
                                         SourceKind::Shared);
  return rig;
}

}  // namespace

TEST_CASE("the rig's rate is good to its length and to the clip's clock", "[swing]") {
  const Uncertain by_rig = rate(5.0, 3e-4, "rig.reduced-length");
  const auto known = rate_by_rig(by_rig, rate(5.02, 4e-3, "tracking[1]"));
  REQUIRE(known.has_value());
  CHECK(known->value() == 5.0);
  // A rectangle of half width a has the standard uncertainty a / sqrt 3, [JCGM100] 4.3.7.
  CHECK_THAT(known->u(), to_rounding(5.0 * std::hypot(3e-4, 1e-3 / std::sqrt(3.0)), 8));
}

TEST_CASE("a clip that contradicts the rig's rate is left alone with its own", "[swing]") {
  const Uncertain by_rig = rate(5.0, 3e-4, "rig.reduced-length");
  CHECK_FALSE(rate_by_rig(by_rig, rate(5.0 / 8.0, 1e-3, "tracking[1]")).has_value());
  CHECK_FALSE(rate_by_rig(by_rig, rate(5.02, 1e-3, "tracking[1]")).has_value());
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
  std::uniform_real_distribution<double> clock(-1e-3, 1e-3);
  Scores release, natural;
  for (int seed = 1; seed <= kSeeds; ++seed) {
    MadeSampling sampling;
    sampling.seed = static_cast<std::uint64_t>(seed);
    sampling.time_scale = 1.0 + clock(draws);
    const SwingMeasurement m = measured(clip.sampled(sampling), drawn_rig(draws));
    release.add(deg(*m.release_angle_rad), clip.release_deg(), u_deg(*m.release_angle_rad));
    natural.add(
        m.natural_rad_per_s->value(), 5.0 / sampling.time_scale, m.natural_rad_per_s->u());
  }
  // Four deviations of the mean of 200 squared scores, sqrt(2 / 200) each.
  CHECK_THAT(release.mean(), to_truncation(1.0, 0.4));
  CHECK_THAT(natural.mean(), to_truncation(1.0, 0.4));
}
