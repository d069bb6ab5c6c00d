// SPDX-License-Identifier: Apache-2.0
/// \file speed_change_test.cc
/// Films of which a part is played slowed down.
#include "swing/speed_change.h"

#include "support/test.h"
#include "swing/made_rigs.h"
#include "swing/measure_swing.h"
#include "swing/measured.h"

using namespace swingloss;
using namespace swingloss::test;

namespace {

/// Eight times slower until then, at the usual speed after.
AngleTrack slow_until(AngleTrack track, double until_s) {
  for (AngleSample& sample : track.samples)
    sample.t_s = sample.t_s < until_s ? 8.0 * sample.t_s : sample.t_s + 7.0 * until_s;
  return track;
}

/// At the usual speed until then, eight times slower after.
AngleTrack slow_from(AngleTrack track, double from_s) {
  for (AngleSample& sample : track.samples)
    sample.t_s = sample.t_s < from_s ? sample.t_s : 8.0 * sample.t_s - 7.0 * from_s;
  return track;
}

}  // namespace

TEST_CASE("slow motion that ends after the first rise is measured up to there",
          "[swing][synthetic]") {
  const MadeClip clip = usual_blow(0.63, 4.0);
  const SwingMeasurement m = measured(slow_until(clip.sampled({}), clip.turn_s() + 0.1));
  CHECK(m.outcome == Outcome::Broken);
  CHECK(says(m, "speed-changes"));
  CHECK_THAT(deg(*m.release_angle_rad),
             to_uncertainty(clip.release_deg(), u_deg(*m.release_angle_rad)));
  CHECK_THAT(deg(*m.rise_angle_rad), to_uncertainty(clip.rise_deg(), u_deg(*m.rise_angle_rad)));
  // Fall and rise are a hundred samples of 0.02 degrees, without a later swing for the zero.
  CHECK(u_deg(*m.rise_angle_rad) < 0.2);
}

TEST_CASE("a free swing is told from its release, not from a later swing at another speed",
          "[swing][synthetic]") {
  const MadeClip clip = usual_free_swing(8.0);
  const SwingMeasurement m = measured(slow_until(clip.sampled({}), clip.turn_s() + 1.0));
  CHECK(m.outcome == Outcome::FreeSwing);
  CHECK(says(m, "speed-changes"));
  CHECK_THAT(deg(*m.release_angle_rad),
             to_uncertainty(clip.release_deg(), u_deg(*m.release_angle_rad)));
}

TEST_CASE("slow motion that begins in the fall is refused", "[swing][synthetic]") {
  const MadeClip clip = usual_blow();
  for (const double after_s : {0.08, 0.2, 0.35}) {
    CAPTURE(after_s);
    const auto m =
        measure_swing(slow_from(clip.sampled({}), clip.release_s() + after_s), nullptr);
    CHECK((!m.ok() || m.value().outcome == Outcome::Unclear));
  }
}

TEST_CASE("a clip of one speed has no change of it", "[swing][synthetic]") {
  CHECK_FALSE(speed_change_s(usual_free_swing().sampled({}).samples));
  CHECK_FALSE(speed_change_s(usual_blow(0.63, 4.0).sampled({}).samples));
}

TEST_CASE("a slow practice swing is not measured instead of the blow", "[swing][synthetic]") {
  MadeClip clip{MadeRig{}};
  clip.still(0.5).carried(40, 1.0).still(0.5).free(3.0);
  const double practice_s = clip.length_s();
  clip.carried(125, 1.5).still(0.5).free(4.0, MadeBar{0.63});
  const SwingMeasurement m = measured(slow_until(clip.sampled({}), practice_s));
  CHECK(m.outcome == Outcome::Broken);
  CHECK_FALSE(says(m, "speed-changes"));
  CHECK_THAT(deg(*m.release_angle_rad),
             to_uncertainty(clip.release_deg(), u_deg(*m.release_angle_rad)));
}
