// SPDX-License-Identifier: Apache-2.0
#include "swing/split_blows.h"

#include "core/angle.h"
#include "support/test.h"
#include "swing/made_rigs.h"
#include "swing/measure_swing.h"

using namespace swingloss;
using namespace swingloss::test;

namespace {

MadeBar bar(double absorbs) {
  MadeBar b;
  b.absorbs = absorbs;
  return b;
}

/// Lifted to the latch by hand, held while the bar is put in, released.
void one_test(MadeClip& clip, const MadeBar& b, double swings_s) {
  clip.carried(125.0, 1.5).still(2.0).free(swings_s, b).carried(0.0, 0.8).still(1.5);
}

std::vector<SwingMeasurement> measured(const MadeClip& clip,
                                       const MadeSampling& sampling = {}) {
  const Result<std::vector<AngleTrack>> parts = split_blows(clip.sampled(sampling));
  REQUIRE(parts.ok());
  const Pendulum rig = made_pendulum(true);
  std::vector<SwingMeasurement> all;
  for (const AngleTrack& part : parts.value()) {
    Result<SwingMeasurement> m = measure_swing(part, &rig);
    REQUIRE(m.ok());
    all.push_back(std::move(m).value());
  }
  return all;
}

}  // namespace

TEST_CASE("one recording of five bars gives five energies", "[swing][synthetic]") {
  MadeClip clip{MadeRig{}};
  clip.still(1.0);
  const double absorbs[] = {0.63, 0.15, 0.4, 0.9, 0.7};
  for (const double a : absorbs) one_test(clip, bar(a), 1.6);
  for (const double direction : {1.0, -1.0}) {
    CAPTURE(direction);
    MadeSampling sampling;
    sampling.direction = direction;
    sampling.zero_deg = 20.0;
    const std::vector<SwingMeasurement> all = measured(clip, sampling);
    REQUIRE(all.size() == 5);
    double before_s = 0.0;
    for (std::size_t k = 0; k < all.size(); ++k) {
      CAPTURE(k);
      CHECK(all[k].outcome == Outcome::Broken);
      REQUIRE(all[k].absorbed_J.has_value());
      CHECK_THAT(all[k].absorbed_J->value(),
                 to_uncertainty(absorbs[k] * kMadeMoment_Nm, all[k].absorbed_J->u()));
      // Times stay those of the recording.
      CHECK(*all[k].events.blow_s > before_s);
      before_s = *all[k].events.blow_s;
    }
  }
}

TEST_CASE("bars that do not break are among the blows, practice swings are not", "[swing]") {
  MadeClip clip{MadeRig{}};
  clip.still(1.0).carried(125.0, 1.5).still(1.0).free(1.6).carried(0.0, 0.8).still(1.5);
  one_test(clip, bar(0.5), 1.6);
  MadeBar tough;
  tough.breaks = false;
  tough.thrown_back = 0.2;
  clip.carried(125.0, 1.5).still(2.0).free(0.9, tough).carried(0.0, 0.8).still(1.5);
  one_test(clip, bar(0.8), 1.6);
  const std::vector<SwingMeasurement> all = measured(clip);
  REQUIRE(all.size() == 3);
  CHECK(all[0].outcome == Outcome::Broken);
  CHECK(all[1].outcome == Outcome::NotBroken);
  CHECK(all[1].censoring == Censoring::Right);
  CHECK(all[2].outcome == Outcome::Broken);
  CHECK_THAT(all[2].absorbed_J->value(),
             to_uncertainty(0.8 * kMadeMoment_Nm, all[2].absorbed_J->u()));
}

TEST_CASE("footage cut together from several tests is split as well", "[swing]") {
  MadeClip clip{MadeRig{}};
  clip.cut_to(125).still(0.5).free(1.3, bar(0.5)).cut_to(125).still(0.5).free(1.3, bar(0.8));
  const std::vector<SwingMeasurement> all = measured(clip);
  REQUIRE(all.size() == 2);
  CHECK_THAT(all[0].absorbed_J->value(),
             to_uncertainty(0.5 * kMadeMoment_Nm, all[0].absorbed_J->u()));
  CHECK_THAT(all[1].absorbed_J->value(),
             to_uncertainty(0.8 * kMadeMoment_Nm, all[1].absorbed_J->u()));
}

TEST_CASE("one blow, or none, is one track as a whole", "[swing]") {
  for (const MadeClip& clip : {usual_blow(), usual_free_swing()}) {
    AngleTrack track = clip.sampled({});
    track.u_place_rad = 1e-3;
    const Result<std::vector<AngleTrack>> parts = split_blows(track);
    REQUIRE(parts.ok());
    REQUIRE(parts.value().size() == 1);
    CHECK(parts.value()[0].samples.size() == track.samples.size());
    CHECK(parts.value()[0].u_place_rad == 1e-3);
  }
  MadeClip hanging{MadeRig{}};
  hanging.still(2.0);
  CHECK_FALSE(split_blows(hanging.sampled({})).ok());
}

TEST_CASE("doubts are split with their samples", "[swing]") {
  MadeClip clip{MadeRig{}};
  for (const double a : {0.4, 0.7}) one_test(clip, bar(a), 1.6);
  AngleTrack track = clip.sampled({});
  const auto n = static_cast<Eigen::Index>(track.samples.size());
  track.doubts.push_back({"row", Eigen::VectorXd::LinSpaced(n, 0.0, 1.0), "family"});
  const Result<std::vector<AngleTrack>> parts = split_blows(track);
  REQUIRE(parts.ok());
  REQUIRE(parts.value().size() == 2);
  const AngleTrack& second = parts.value()[1];
  REQUIRE(second.doubts[0].shape_rad.size() ==
          static_cast<Eigen::Index>(second.samples.size()));
  CHECK(second.doubts[0].family == "family");
  const auto first_row = static_cast<Eigen::Index>(second.samples.front().frame);
  CHECK(second.doubts[0].shape_rad[0] == track.doubts[0].shape_rad[first_row]);
}
