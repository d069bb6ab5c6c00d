// SPDX-License-Identifier: Apache-2.0
#include "swing/fit_decay.h"

#include "core/angle.h"
#include "metrology/correlated.h"
#include "support/test.h"
#include "swing/made_rigs.h"

#include <algorithm>
#include <cmath>
#include <string>

using namespace swingloss;
using namespace swingloss::test;

namespace {

MadeClip free_swing(const SwingLaw& law, double for_s, double from_deg = 100.0) {
  MadeRig rig;
  rig.law = law;
  MadeClip clip{rig};
  clip.cut_to(from_deg).still(0.4).free(for_s);
  return clip;
}

FreeDecay decayed(const AngleTrack& track, const DecayOptions& options = {}) {
  Result<FreeDecay> decay = fit_decay(track, options);
  REQUIRE(decay.ok());
  return std::move(decay).value();
}

}  // namespace

TEST_CASE("fit_decay finds the terms that are there and no others", "[swing][synthetic]") {
  struct Case {
    SwingLaw law;
    bool dry, linear, quadratic;
  };
  const Case cases[] = {{{0.003, 0.0, 0.0}, true, false, false},
                        {{0.0, 0.006, 0.0}, false, true, false},
                        {{0.0, 0.0, 0.006}, false, false, true},
                        {{0.002, 0.0, 0.007}, true, false, true}};
  for (const Case& c : cases) {
    CAPTURE(c.law.dry, c.law.linear, c.law.quadratic);
    const FreeDecay d = decayed(free_swing(c.law, 12.0).sampled({}));
    CHECK(d.terms.dry == c.dry);
    CHECK(d.terms.linear == c.linear);
    CHECK(d.terms.quadratic == c.quadratic);
    CHECK_THAT(d.law.dry.value(), to_uncertainty(c.law.dry, d.law.dry.u()));
    CHECK_THAT(d.law.linear.value(), to_uncertainty(c.law.linear, d.law.linear.u()));
    CHECK_THAT(d.law.quadratic.value(), to_uncertainty(c.law.quadratic, d.law.quadratic.u()));
    CHECK_THAT(d.zero_rad.value(), to_uncertainty(0.0, d.zero_rad.u()));
    CHECK_THAT(d.natural_rad_per_s.value(), to_uncertainty(5.0, d.natural_rad_per_s.u()));
    const TermEvidence* evidence[] = {&d.dry, &d.linear, &d.quadratic};
    const bool there[] = {c.dry, c.linear, c.quadratic};
    for (int k = 0; k < 3; ++k) {
      CAPTURE(k);
      CHECK(evidence[k]->supported == there[k]);
      CHECK((evidence[k]->bic_gain > 6.0) == there[k]);
      if (there[k]) CHECK(evidence[k]->t_ratio > 10.0);
    }
  }
}

TEST_CASE("a half swing's loss from a decay is the closed form's", "[swing][truth]") {
  // Dry: cos t1 - cos t0 = mu (t0 + t1): 90 -> 89.64071621 degrees at mu = 0.002 (reference
  // values, 2.4).
  const FreeDecay d = decayed(free_swing({0.002, 0.0, 0.0}, 12.0, 90.0).sampled({}));
  const double lost = std::cos(Angle::from_deg(89.64071621).rad());
  CHECK_THAT(d.first_loss_fraction.value(), to_uncertainty(lost, d.first_loss_fraction.u()));
  CHECK(d.first_loss_fraction.u() < 0.01 * lost);
  CHECK_THAT(Angle::from_rad(d.first_amplitude_rad).deg(), to_truncation(90.0, 0.02));  // noise
}

TEST_CASE("the doubts of a decay are neither too small nor too large", "[swing][synthetic]") {
  constexpr int kSeeds = 60;
  const SwingLaw law{0.002, 0.0, 0.007};
  const MadeClip clip = free_swing(law, 8.0);
  DecayOptions options;
  options.terms = LossTerms{true, false, true};
  double zero = 0.0;
  double dry = 0.0;
  double quadratic = 0.0;
  for (int seed = 1; seed <= kSeeds; ++seed) {
    MadeSampling sampling;
    sampling.rate_per_s = 30.0;
    sampling.seed = static_cast<std::uint64_t>(seed);
    const FreeDecay d = decayed(clip.sampled(sampling), options);
    zero += std::pow(d.zero_rad.value() / d.zero_rad.u(), 2) / kSeeds;
    dry += std::pow((d.law.dry.value() - law.dry) / d.law.dry.u(), 2) / kSeeds;
    quadratic +=
        std::pow((d.law.quadratic.value() - law.quadratic) / d.law.quadratic.u(), 2) / kSeeds;
  }
  // Mean of 60 squared scores: 1 with a deviation of 0.18; four of these. One fit in twenty is
  // widened for a memory that is chance.
  CHECK_THAT(zero, to_truncation(1.0, 0.73));
  CHECK_THAT(dry, to_truncation(1.0, 0.73));
  CHECK_THAT(quadratic, to_truncation(1.0, 0.73));
}

TEST_CASE("an arm that runs down to a dead stop shows its dry friction", "[swing][synthetic]") {
  const double dry = 0.004;
  const FreeDecay d = decayed(free_swing({dry, 0.0, 0.0}, 16.0, 8.0).sampled({}));
  CHECK(d.terms.dry);
  CHECK_THAT(d.law.dry.value(), to_uncertainty(dry, d.law.dry.u()));
  REQUIRE(d.stopped_s.has_value());
  // Small angles: 2 mu a half swing of pi/w0; 8 degrees are 17.5 of these.
  CHECK_THAT(*d.stopped_s, to_truncation(0.4 + 17.5 * kPi / 5.0, 2.0 * kPi / 5.0));
  CHECK(std::abs(*d.rest_off_zero_rad) < dry + 3.0 * d.zero_rad.u());
  const auto told = [](const Remark& r) { return r.code == "stops-dead"; };
  CHECK(std::any_of(d.remarks.begin(), d.remarks.end(), told));
}

TEST_CASE("free swings of one rig are averaged with what they agree by", "[swing][synthetic]") {
  const SwingLaw law{0.002, 0.0, 0.007};
  std::vector<AngleTrack> tracks;
  for (std::uint64_t seed = 1; seed <= 3; ++seed) {
    MadeSampling sampling;
    sampling.seed = seed;
    tracks.push_back(free_swing(law, 8.0).sampled(sampling));
  }
  const Result<UncertainLaw> all = law_of_free_swings(tracks);
  const Result<UncertainLaw> one = law_of_free_swings({tracks[0]});
  REQUIRE(all.ok());
  REQUIRE(one.ok());
  CHECK_THAT(all.value().dry.value(), to_uncertainty(law.dry, all.value().dry.u()));
  CHECK_THAT(all.value().quadratic.value(),
             to_uncertainty(law.quadratic, all.value().quadratic.u()));
  // 1/sqrt(3) for equal tracks; widened by up to chi2 of 4 degrees of freedom over 4.
  const double ratio = all.value().dry.u() / one.value().dry.u();
  CHECK(ratio > 0.5);
  CHECK(ratio < 1.2);
  // The terms stand for one another in a decay; that must survive.
  const Eigen::MatrixXd c = covariance_of({all.value().dry, all.value().quadratic});
  CHECK(c(0, 1) < -0.5 * std::sqrt(c(0, 0) * c(1, 1)));
  CHECK(all.value().dry.parts().front().kind == SourceKind::Shared);
}

TEST_CASE("too little of a decay is a failure with its reason", "[swing]") {
  const auto shortest = fit_decay(free_swing({0.002, 0, 0.007}, 1.0).sampled({}));
  REQUIRE_FALSE(shortest.ok());
  CHECK(
      (shortest.failure().code == "too-few-swings" || shortest.failure().code == "fit-failed"));
  const auto none = fit_decay(AngleTrack{});
  REQUIRE_FALSE(none.ok());
  CHECK(none.failure().code == "too-few-samples");
}
