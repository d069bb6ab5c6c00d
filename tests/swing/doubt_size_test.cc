// SPDX-License-Identifier: Apache-2.0
/// \file doubt_size_test.cc
/// Errors that belong to a place of the arm's path and come back at every pass.
#include "swing/doubt_size.h"

#include "core/angle.h"
#include "support/test.h"
#include "swing/made_rigs.h"
#include "swing/measure_swing.h"
#include "swing/measured.h"

#include <cmath>
#include <random>

using namespace swingloss;
using namespace swingloss::test;

namespace {

/// A hump of 0.1 degrees at the bottom, where the arm passes twice a swing.
AngleTrack with_hump(AngleTrack track) {
  for (AngleSample& sample : track.samples) {
    const double x = (Angle::from_rad(sample.theta_rad).deg() + 20.0) / 40.0;
    if (x <= 0.0 || x >= 1.0) continue;
    sample.theta_rad += Angle::from_deg(0.1).rad() * 0.5 * (1.0 - std::cos(2.0 * kPi * x));
  }
  return track;
}

/// One doubt of no size: the track is then taken at its word.
AngleTrack taken_at_its_word(AngleTrack track) {
  track.doubts.push_back(
      {"none", Eigen::VectorXd::Zero(static_cast<Eigen::Index>(track.samples.size()))});
  return track;
}

struct Sums {
  double squares_deg2 = 0.0, scores = 0.0, u_deg = 0.0;
};

/// Errors of the release angle over made clips.
Sums release_errors(const MadeClip& clip, AngleTrack (*spoil)(AngleTrack), int seeds) {
  Sums sums;
  const Pendulum rig = made_pendulum(true);
  for (int seed = 1; seed <= seeds; ++seed) {
    MadeSampling sampling;
    sampling.seed = static_cast<std::uint64_t>(seed);
    sampling.noise_deg = 0.015;
    const auto m = measure_swing(spoil(clip.sampled(sampling)), &rig);
    REQUIRE(m.ok());
    REQUIRE(m.value().release_angle_rad.has_value());
    const Uncertain& release = *m.value().release_angle_rad;
    const double error_deg = deg(release) - clip.release_deg();
    sums.squares_deg2 += error_deg * error_deg / seeds;
    sums.scores += std::pow(error_deg / u_deg(release), 2) / seeds;
    sums.u_deg += u_deg(release) / seeds;
  }
  return sums;
}

AngleTrack as_made(AngleTrack track) { return track; }
AngleTrack hump_at_its_word(AngleTrack track) {
  return taken_at_its_word(with_hump(std::move(track)));
}

/// Bumps as a tracker would state them, of 0.1 degrees.
std::vector<SharedDoubt> bumps_of(const AngleTrack& track) {
  std::vector<SharedDoubt> bumps;
  for (int k = 0; k < 14; ++k) {
    SharedDoubt bump{"look-" + std::to_string(k),
                     Eigen::VectorXd(static_cast<Eigen::Index>(track.samples.size())),
                     "look"};
    for (std::size_t i = 0; i < track.samples.size(); ++i) {
      const double off = (track.samples[i].theta_rad - 0.3 * k + 1.6) / 0.21;
      bump.shape_rad[static_cast<Eigen::Index>(i)] =
          Angle::from_deg(0.1).rad() * std::exp(-0.5 * off * off);
    }
    bumps.push_back(bump);
  }
  return bumps;
}

}  // namespace

TEST_CASE("a hump at the bottom does not drag the release angle", "[swing][synthetic]") {
  for (const double after_s : {0.9, 4.0}) {
    CAPTURE(after_s);
    const MadeClip clip = usual_blow(0.63, after_s);
    const Sums trusting = release_errors(clip, hump_at_its_word, 12);
    const Sums wary = release_errors(clip, with_hump, 12);
    // Some fits of the trusting kind are off by a third of a degree and sure of themselves.
    CHECK(std::sqrt(wary.squares_deg2) < 0.5 * std::sqrt(trusting.squares_deg2));
    CHECK(trusting.scores > 3.0);
    // Twelve squared scores: 1 with a deviation of 0.4; four of these.
    CHECK(wary.scores < 2.6);
  }
}

TEST_CASE("without a hump wariness costs next to nothing", "[swing][synthetic]") {
  const MadeClip clip = usual_blow(0.63, 0.9);
  const Sums trusting = release_errors(
      clip, [](AngleTrack track) { return taken_at_its_word(std::move(track)); }, 12);
  const Sums wary = release_errors(clip, as_made, 12);
  CHECK(wary.u_deg < 1.25 * trusting.u_deg);
  CHECK(wary.squares_deg2 < 1.5 * trusting.squares_deg2);
}

TEST_CASE("the size of a family is found from the motion", "[swing][synthetic]") {
  constexpr int kSeeds = 24;
  const MadeClip clip = usual_blow(0.63, 2.0);
  const Pendulum rig = made_pendulum(true);
  double squares = 0.0;
  for (int seed = 1; seed <= kSeeds; ++seed) {
    MadeSampling sampling;
    sampling.seed = static_cast<std::uint64_t>(seed);
    sampling.noise_deg = 0.015;
    AngleTrack track = clip.sampled(sampling);
    const std::vector<SharedDoubt> bumps = bumps_of(track);
    std::mt19937_64 random(static_cast<std::uint64_t>(1000 + seed));
    std::normal_distribution<double> normal;
    // True size: 0.6 of that stated.
    for (const SharedDoubt& bump : bumps) {
      const double score = 0.6 * normal(random);
      for (std::size_t i = 0; i < track.samples.size(); ++i) {
        track.samples[i].theta_rad += score * bump.shape_rad[static_cast<Eigen::Index>(i)];
      }
    }
    track.doubts = bumps;
    const auto m = measure_swing(track, &rig);
    REQUIRE(m.ok());
    REQUIRE(m.value().doubt_scores.size() == bumps.size());
    // A bump before the first sample is known from nothing but its family: its u is the size.
    double largest = 0.0;
    for (const Uncertain& score : m.value().doubt_scores)
      largest = std::max(largest, score.u());
    squares += largest * largest / kSeeds;
  }
  // Fourteen bumps, about ten of them apart from what the law explains: the mean square of one
  // clip is known to sqrt(2/10) = 45 %, of 24 clips to 9 %; weighing sizes adds its own bias
  // upward, and the largest u of all is below the size where every bump is seen.
  CHECK(std::sqrt(squares) > 0.4);
  CHECK(std::sqrt(squares) < 0.9);
}

TEST_CASE("a family is as small as it is, and none when nothing speaks for it", "[swing]") {
  const MadeClip clip = usual_blow(0.63, 2.0);
  AngleTrack track = clip.sampled({});
  track.doubts = bumps_of(track);
  const auto sized = measure_swing(track, nullptr);
  for (SharedDoubt& bump : track.doubts) bump.family.clear();
  const auto fixed = measure_swing(track, nullptr);
  REQUIRE(sized.ok());
  REQUIRE(fixed.ok());
  CHECK(u_deg(*sized.value().release_angle_rad) <
        0.5 * u_deg(*fixed.value().release_angle_rad));
}

TEST_CASE("later swings seen a little otherwise go on as the same pendulum",
          "[swing][synthetic]") {
  const MadeClip clip = usual_blow(0.63, 3.0);
  MadeSampling fine;
  fine.noise_deg = 0.004;
  AngleTrack track = clip.sampled(fine);
  // Ripples too narrow for the bumps, and larger where the arm comes by slower.
  for (AngleSample& sample : track.samples) {
    const double size_deg = sample.t_s > clip.turn_s() ? 0.05 : 0.005;
    sample.theta_rad += Angle::from_deg(size_deg).rad() * std::sin(40.0 * sample.theta_rad);
  }
  track.doubts = bumps_of(track);
  SECTION("the track says that it may be off by so much: nothing is left out") {
    track.u_place_rad = Angle::from_deg(0.05).rad();
    const SwingMeasurement m = measured(track);
    CHECK_FALSE(says(m, "later-swings-not-used"));
    CHECK_THAT(deg(*m.release_angle_rad),
               to_uncertainty(clip.release_deg(), u_deg(*m.release_angle_rad)));
    CHECK_THAT(deg(*m.rise_angle_rad),
               to_uncertainty(clip.rise_deg(), u_deg(*m.rise_angle_rad)));
  }
  SECTION("a track that claims to be without such errors is taken at its word") {
    CHECK(says(measured(track), "later-swings-not-used"));
  }
}

TEST_CASE("doubts of the look do not hide a hand", "[swing]") {
  MadeClip clip{MadeRig{}};
  clip.cut_to(125).still(0.4).free(1.3, MadeBar{0.63}).carried(-20, 0.3).carried(0, 0.6);
  AngleTrack track = clip.sampled({});
  track.doubts = bumps_of(track);
  track.u_place_rad = Angle::from_deg(0.05).rad();
  const SwingMeasurement m = measured(track);
  CHECK(m.outcome == Outcome::Broken);
  CHECK_THAT(m.absorbed_J->value(), to_uncertainty(0.63 * kMadeMoment_Nm, m.absorbed_J->u()));
}
