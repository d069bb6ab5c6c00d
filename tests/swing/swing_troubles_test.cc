// SPDX-License-Identifier: Apache-2.0
/// \file swing_troubles_test.cc
/// Poor time stamps, wild samples, wrong rigs, and clips that say too little.
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

TEST_CASE("wavering time stamps about a steady rate are seen through", "[swing][synthetic]") {
  MadeSampling sampling;
  sampling.rate_per_s = 30.0;
  sampling.jitter_s = 0.001;
  const MadeClip clip = usual_blow();
  const SwingMeasurement m = measured(clip.sampled(sampling));
  CHECK(says(m, "steady-times-used"));
  // A millisecond is half a degree at the bottom; the angles must not show it.
  CHECK(u_deg(*m.rise_angle_rad) < 0.02);
  CHECK_THAT(deg(*m.rise_angle_rad), to_uncertainty(clip.rise_deg(), u_deg(*m.rise_angle_rad)));
  CHECK_THAT(m.natural_rad_per_s->value(), to_uncertainty(5.0, m.natural_rad_per_s->u()));
}

TEST_CASE("unsteady time stamps with errors widen what depends on them", "[swing][synthetic]") {
  const MadeClip clip = usual_blow();
  AngleTrack track = clip.sampled({});
  // Pictures taken at uneven times (0.7 of an interval to either side), stamped with an error.
  MadeSampling dense;
  dense.rate_per_s = 10000.0;
  const AngleTrack all = clip.sampled(dense);
  double k = 0.0;
  for (AngleSample& sample : track.samples) {
    k += 1.0;
    const auto shift = static_cast<std::size_t>(60.0 + 110.0 * std::sin(7.3 * k));
    const auto at = std::min(all.samples.size() - 1,
                             static_cast<std::size_t>(sample.t_s * 10000.0) + shift);
    sample.t_s = all.samples[at].t_s + 0.0015 * std::sin(3.1 * k * k);
    sample.theta_rad = all.samples[at].theta_rad;
  }
  const SwingMeasurement m = measured(track);
  CHECK_FALSE(says(m, "steady-times-used"));
  // rms of 1.5 ms sin: 1.06 ms; known to a tenth or so from the fast half of the samples.
  CHECK_THAT(m.time_jitter_s, to_truncation(0.00106, 0.0004));
  CHECK_THAT(deg(*m.rise_angle_rad), to_uncertainty(clip.rise_deg(), u_deg(*m.rise_angle_rad)));
}

TEST_CASE("a film brought to a lower picture rate is measured", "[swing][synthetic]") {
  // Of 30 pictures a second every fifth is left out and the others stamped as 24 even ones.
  const MadeClip clip = usual_blow();
  MadeSampling sampling;
  sampling.rate_per_s = 30.0;
  AngleTrack track = clip.sampled(sampling);
  std::vector<AngleSample> kept;
  for (std::size_t i = 0; i < track.samples.size(); ++i) {
    if (i % 5 == 4) continue;
    kept.push_back(track.samples[i]);
    kept.back().t_s = double(kept.size()) / 24.0;
  }
  track.samples = kept;
  const SwingMeasurement m = measured(track);
  CHECK(m.outcome == Outcome::Broken);
  REQUIRE(m.release_angle_rad);
  REQUIRE(m.rise_angle_rad);
  CHECK_THAT(deg(*m.release_angle_rad),
             to_uncertainty(clip.release_deg(), u_deg(*m.release_angle_rad)));
  CHECK_THAT(deg(*m.rise_angle_rad), to_uncertainty(clip.rise_deg(), u_deg(*m.rise_angle_rad)));
  // Some 10 ms of waver, which the slow pictures at either end hardly show.
  CHECK(u_deg(*m.rise_angle_rad) < 0.5);
}

TEST_CASE("wild samples do not matter", "[swing][synthetic]") {
  const MadeClip clip = usual_blow();
  for (std::uint64_t seed = 1; seed <= 5; ++seed) {
    CAPTURE(seed);
    MadeSampling sampling;
    sampling.seed = seed;
    sampling.outlier_share = 0.08;
    const SwingMeasurement m = measured(clip.sampled(sampling));
    CHECK(m.outcome == Outcome::Broken);
    REQUIRE(m.rise_angle_rad.has_value());
    CHECK_THAT(deg(*m.rise_angle_rad),
               to_uncertainty(clip.rise_deg(), u_deg(*m.rise_angle_rad)));
  }
}

TEST_CASE("a rig whose length is wrong is found out", "[swing]") {
  Pendulum rig = made_pendulum(true);
  rig.reduced_length_m = Uncertain::from(
      1.01 * rig.reduced_length_m.value(), 1e-4, "rig.reduced-length", SourceKind::Shared);
  const auto m = measure_swing(usual_blow().sampled({}), &rig);
  REQUIRE(m.ok());
  CHECK(says(m.value(), "time-or-length-off"));
  // sqrt(1.01) slower by the rig than in the clip.
  CHECK_THAT(m.value().capture_rate_ratio, to_truncation(1.0 / std::sqrt(1.01), 5e-4));
  CHECK_FALSE(m.value().speed_drop.has_value());
}

TEST_CASE("a length that looks like slow motion of no camera is found out", "[swing]") {
  Pendulum rig = made_pendulum(false);
  const double true_m = rig.reduced_length_m.value();
  rig.reduced_length_m =
      Uncertain::from(true_m * 0.25 / 0.392, 5e-4, "rig.reduced-length", SourceKind::Shared);
  const SwingMeasurement right = measured(usual_blow().sampled({}), false);
  const auto m = measure_swing(usual_blow().sampled({}), &rig);
  REQUIRE(m.ok());
  CHECK(says(m.value(), "time-or-length-off"));
  CHECK_FALSE(says(m.value(), "slow-motion"));
  CHECK_FALSE(m.value().speed_drop.has_value());
  REQUIRE(m.value().absorbed_J.has_value());
  CHECK_THAT(m.value().absorbed_J->value(),
             to_uncertainty(right.absorbed_J->value(), right.absorbed_J->u()));
  // The true speed is within the doubt, which is as large as the two are apart over sqrt(2).
  const Uncertain& speed = *m.value().impact_speed_m_per_s;
  CHECK_THAT(speed.value(), to_uncertainty(right.impact_speed_m_per_s->value(), speed.u()));
  CHECK(speed.u() > 0.1 * speed.value());
}

TEST_CASE("unknown friction is said and carried", "[swing]") {
  MadeSampling noisy;
  noisy.noise_deg = 0.2;
  const SwingMeasurement m = measured(usual_blow().sampled(noisy), false);
  CHECK(says(m, "friction-unknown"));
  REQUIRE(m.friction_J.has_value());
  CHECK(m.friction_J->u() > 0.005 * kMadeMoment_Nm);
}

TEST_CASE("angles too doubtful to be one are refused", "[swing]") {
  MadeSampling noisy;
  noisy.noise_deg = 0.2;
  // One arc of noisy samples: zero is not known to better than a degree, nor are the angles.
  const MadeClip clip = usual_blow(0.63, 0.6);
  const Result<SwingMeasurement> alone = measure_swing(clip.sampled(noisy), nullptr);
  REQUIRE(alone.ok());
  CHECK(alone.value().outcome == Outcome::Unclear);
  CHECK(says(alone.value(), "release-too-uncertain"));
  CHECK_FALSE(alone.value().release_angle_rad.has_value());
  // The rig's own rate makes up for it.
  const SwingMeasurement m = measured(clip.sampled(noisy), false);
  CHECK(m.outcome == Outcome::Broken);
  REQUIRE(m.release_angle_rad.has_value());
  CHECK_THAT(deg(*m.release_angle_rad),
             to_uncertainty(clip.release_deg(), u_deg(*m.release_angle_rad)));
}

TEST_CASE("too little to say anything is a failure with its reason", "[swing]") {
  const MadeClip clip = usual_blow();
  AngleTrack few = clip.sampled({});
  few.samples.resize(12);
  const auto none = measure_swing(few, nullptr);
  REQUIRE_FALSE(none.ok());
  CHECK(none.failure().code == "too-few-samples");
  MadeClip hanging{MadeRig{}};
  hanging.still(2.0);
  const auto still = measure_swing(hanging.sampled({}), nullptr);
  REQUIRE_FALSE(still.ok());
  CHECK(still.failure().code == "no-swing");
}
