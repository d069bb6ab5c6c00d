// SPDX-License-Identifier: Apache-2.0
#include "core/angle.h"
#include "support/test.h"
#include "swing/made_rigs.h"
#include "swing/measure_swing.h"
#include "swing/measured.h"

#include <algorithm>
#include <cmath>

using namespace swingloss;
using namespace swingloss::test;

TEST_CASE("mirrored, shifted and later tracks give the same answer", "[swing]") {
  const MadeClip clip = usual_blow();
  const SwingMeasurement plain = measured(clip.sampled({}), made_pendulum(true));
  MadeSampling other;
  other.direction = -1.0;
  other.zero_deg = 77.0;
  other.time_offset_s = 12.5;
  const SwingMeasurement m = measured(clip.sampled(other), made_pendulum(true));
  CHECK(m.outcome == plain.outcome);
  CHECK(m.direction == -plain.direction);
  // The same numbers but for rounding and where the descent stops: a thousandth of u.
  const double u = 1e-3 * u_deg(*plain.release_angle_rad);
  CHECK_THAT(deg(*m.release_angle_rad), to_truncation(deg(*plain.release_angle_rad), u));
  CHECK_THAT(deg(*m.rise_angle_rad), to_truncation(deg(*plain.rise_angle_rad), u));
  CHECK_THAT(deg(*m.zero_rad), to_truncation(77.0 - deg(*plain.zero_rad), u));
  CHECK_THAT(u_deg(*m.rise_angle_rad), to_truncation(u_deg(*plain.rise_angle_rad), u));
  CHECK_THAT(m.absorbed_J->value(),
             to_truncation(plain.absorbed_J->value(), 1e-3 * plain.absorbed_J->u()));
  CHECK_THAT(*m.events.blow_s, to_truncation(*plain.events.blow_s + 12.5, 1e-7));
}

TEST_CASE("slow motion leaves angles alone and is corrected in speeds", "[swing]") {
  const MadeClip clip = usual_blow();
  MadeSampling fast;
  fast.rate_per_s = 240.0;
  const SwingMeasurement plain = measured(clip.sampled(fast), made_pendulum(true));
  MadeSampling slow = fast;
  slow.time_scale = 8.0;
  const SwingMeasurement m = measured(clip.sampled(slow), made_pendulum(true));
  const double u = 1e-3 * u_deg(*plain.release_angle_rad);
  // As above.
  CHECK_THAT(deg(*m.release_angle_rad), to_truncation(deg(*plain.release_angle_rad), u));
  CHECK_THAT(m.absorbed_J->value(),
             to_truncation(plain.absorbed_J->value(), 1e-3 * plain.absorbed_J->u()));
  CHECK(plain.capture_rate_ratio == 1.0);
  // From the rig's length: its u of 1.3e-4 in sqrt(l), times four.
  CHECK_THAT(m.capture_rate_ratio, to_truncation(8.0, 8.0 * 5e-4));
  CHECK_THAT(m.impact_speed_m_per_s->value(),
             to_uncertainty(plain.impact_speed_m_per_s->value(), m.impact_speed_m_per_s->u()));
  CHECK(m.speed_drop->agrees);
  const auto told = [](const Remark& r) { return r.code == "slow-motion"; };
  CHECK(std::any_of(m.remarks.begin(), m.remarks.end(), told));
}

TEST_CASE("without a rig there are angles and no energies", "[swing]") {
  const auto result = measure_swing(usual_blow().sampled({}), nullptr);
  REQUIRE(result.ok());
  const SwingMeasurement& m = result.value();
  CHECK(m.outcome == Outcome::Broken);
  CHECK(m.rise_angle_rad.has_value());
  CHECK_FALSE(m.absorbed_J.has_value());
  CHECK_FALSE(m.impact_speed_m_per_s.has_value());
}

TEST_CASE("the moment is shared and the tracking is own", "[swing]") {
  Pendulum rig = made_pendulum(true);
  rig.moment_Nm = Uncertain::from(kMadeMoment_Nm, 0.01, "rig.moment", SourceKind::Shared);
  MadeSampling other;
  other.seed = 2;
  const SwingMeasurement a = measured(usual_blow(0.5).sampled({}), rig);
  const SwingMeasurement b = measured(usual_blow(0.7).sampled(other), rig);
  const auto of_moment = [](const Uncertain& x) {
    for (const Contribution& c : x.parts()) {
      if (c.source != "rig.moment") continue;
      CHECK(c.kind == SourceKind::Shared);
      return std::abs(c.signed_u);
    }
    return 0.0;
  };
  // dW/dM lies between W/M (were all friction in proportion to M) and W_raw/M (were all torques
  // fixed); the fit, which knows friction from both, is in between.
  CHECK(of_moment(*a.absorbed_J) >= 0.01 / kMadeMoment_Nm * a.absorbed_J->value());
  CHECK(of_moment(*a.absorbed_J) <= 0.01 / kMadeMoment_Nm * a.raw_absorbed_J->value());
  const Uncertain ratio =
      *a.absorbed_J / b.absorbed_J->with_sources_of(SourceKind::Own, " of b");
  // M's 0.25 % cancels but for the friction, a tenth of W.
  CHECK(of_moment(ratio) < 0.1 * 0.0025 * ratio.value());
  CHECK(ratio.u(SourceKind::Own) > 0.0);
}

TEST_CASE("pictures that straddle the blow are left out of both arcs", "[swing]") {
  for (const double rate : {30.0, 60.0, 240.0}) {
    CAPTURE(rate);
    MadeSampling sampling;
    sampling.rate_per_s = rate;
    const MadeClip clip = usual_blow();
    const AngleTrack track = clip.sampled(sampling);
    const SwingMeasurement m = measured(track, made_pendulum(true));
    double nearest_s = 1.0;
    double nearest_deg = 90.0;
    for (const std::size_t i : m.curve.used_samples) {
      const AngleSample& s = track.samples[i];
      nearest_s = std::min(nearest_s, std::abs(s.t_s - clip.blow_s()));
      const bool first_pass = std::abs(s.t_s - clip.blow_s()) < 0.1;
      const double off_deg = std::abs(Angle::from_rad(s.theta_rad).deg());
      if (first_pass) nearest_deg = std::min(nearest_deg, off_deg);
    }
    // An exposure of a whole interval reaches half of one to either side; a bar may be in touch
    // with the hammer within three degrees (0.052 rad) of hanging, less what zero is off by.
    CHECK(nearest_s > 0.55 / rate);
    CHECK(nearest_deg > 2.9);
  }
}

TEST_CASE("the residuals and the curve are those of the fit", "[swing]") {
  const MadeClip clip = usual_blow();
  const AngleTrack track = clip.sampled({});
  const SwingMeasurement m = measured(track, made_pendulum(true));
  REQUIRE(m.curve.residual_rad.size() == m.curve.used_samples.size());
  double sum = 0.0;
  for (const double r : m.curve.residual_rad) sum += r * r;
  const double rms_deg =
      Angle::from_rad(std::sqrt(sum / static_cast<double>(m.curve.residual_rad.size()))).deg();
  // Known to 1/sqrt(2 n) = 7 %; four of these.
  CHECK_THAT(rms_deg, to_truncation(0.02, 0.28 * 0.02));
  CHECK(m.curve.t_s.size() >= 400);
  const auto highest = std::max_element(m.curve.theta_rad.begin(), m.curve.theta_rad.end());
  CHECK_THAT(Angle::from_rad(*highest).deg(),
             to_uncertainty(125.0, u_deg(*m.release_angle_rad)));
}
