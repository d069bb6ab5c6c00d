// SPDX-License-Identifier: Apache-2.0
#include "swing/shape_slopes.h"

#include "swing/measured.h"

#include <cmath>

using namespace swingloss;
using namespace swingloss::test;

namespace {

/// Swings of 5.8 degrees for 40 s at 30 pictures a second, after 1 s in the hand.
MadeClip small_swings() {
  MadeClip clip({4.04, {1e-5, 2e-4, 0.0}});
  clip.carried(5.8, 1.0).still(1.0).free(40.0);
  return clip;
}

/// With a doubt in proportion to the angles measured.
AngleTrack with_scale_doubt(AngleTrack track, double ratio) {
  SharedDoubt doubt{"view.scale", Eigen::VectorXd(Eigen::Index(track.samples.size())), {}};
  for (std::size_t i = 0; i < track.samples.size(); ++i)
    doubt.shape_rad[Eigen::Index(i)] = ratio * track.samples[i].theta_rad;
  track.doubts.push_back(doubt);
  return track;
}

}  // namespace

TEST_CASE("slopes of shapes are those of the functions behind them", "[swing]") {
  MadeSampling sampling;
  sampling.noise_deg = 0.05;
  AngleTrack track = usual_free_swing().sampled(sampling);
  SharedDoubt sine{"view.sine", Eigen::VectorXd(Eigen::Index(track.samples.size())), {}};
  SharedDoubt same = sine;
  for (std::size_t i = 0; i < track.samples.size(); ++i) {
    sine.shape_rad[Eigen::Index(i)] = 0.01 * std::sin(2.0 * track.samples[i].theta_rad);
    same.shape_rad[Eigen::Index(i)] = 0.002;
  }
  track.doubts = {sine, same};
  const OrientedTrack oriented = as_it_stands(track);
  const Eigen::MatrixXd slopes = shape_slopes(oriented);
  for (Eigen::Index i = 0; i < slopes.rows(); ++i) {
    const double expected = 0.02 * std::cos(2.0 * oriented.samples[std::size_t(i)].theta_rad);
    // A line over 0.2 rad, one-sided at the ends: 0.5 * 0.1 rad of a curvature of 0.04 / rad;
    // where the arm is fastest, over three samples on either side, 0.3 rad.
    CHECK_THAT(slopes(i, 0), to_truncation(expected, 0.006));
    // Sums of a thousand numbers, subtracted.
    CHECK_THAT(slopes(i, 1), to_truncation(0.0, 1e-9));
  }
}

TEST_CASE("the noise of many samples does not draw a doubt of the scale", "[swing]") {
  // 1200 samples and 3 %: taken at the angles measured, the shape would be drawn ten standard
  // deviations off, and all angles a third too small.
  MadeSampling sampling;
  sampling.rate_per_s = 30.0;
  sampling.noise_deg = 0.02;
  double squares = 0.0;
  for (std::uint64_t seed = 1; seed <= 3; ++seed) {
    sampling.seed = seed;
    const AngleTrack track = with_scale_doubt(small_swings().sampled(sampling), 0.03);
    const Result<SwingMeasurement> m = measure_swing(track, nullptr);
    REQUIRE(m.ok());
    REQUIRE(m.value().release_angle_rad.has_value());
    // 3 % of 5.8 degrees: what the swing says of it beyond that is nothing.
    CHECK_THAT(deg(*m.value().release_angle_rad), to_uncertainty(5.8, 0.174));
    squares += std::pow(m.value().doubt_scores.front().value(), 2);
  }
  CHECK(squares < 3.0);
}

TEST_CASE("rows exposed one after another show in the motion", "[swing]") {
  // Each angle is read later by 4 ms times the sine of the angle: a picture filmed upright,
  // the arm's middle a width from its axle.
  MadeSampling sampling;
  sampling.rate_per_s = 12000.0;
  sampling.noise_deg = 0.0;
  sampling.stated_u_deg = 0.01;
  const MadeClip clip = usual_blow();
  const AngleTrack fine = clip.sampled(sampling);
  AngleTrack track;
  for (std::size_t k = 200; k + 400 < fine.samples.size(); k += 200) {
    const double lag_s = 0.004 * std::sin(fine.samples[k].theta_rad);
    AngleSample sample = fine.samples[std::size_t(std::lround(double(k) + lag_s * 12000.0))];
    sample.t_s = fine.samples[k].t_s;
    track.samples.push_back(sample);
  }
  SharedDoubt readout{
      "view.readout-x", Eigen::VectorXd::Zero(Eigen::Index(track.samples.size())), {}};
  for (std::size_t i = 1; i + 1 < track.samples.size(); ++i) {
    const AngleSample& before = track.samples[i - 1];
    const AngleSample& after = track.samples[i + 1];
    readout.shape_rad[Eigen::Index(i)] = 0.015 * std::sin(track.samples[i].theta_rad) *
                                         (after.theta_rad - before.theta_rad) /
                                         (after.t_s - before.t_s);
  }
  track.doubts = {readout};
  const SwingMeasurement m = measured(track);
  // Second order in the lag, 4 ms times up to 9 rad/s, is left out of the shape.
  CHECK_THAT(m.doubt_scores.front().value(), to_truncation(4.0 / 15.0, 0.03));
  CHECK_THAT(deg(*m.release_angle_rad), to_truncation(clip.release_deg(), 0.02));
  CHECK_THAT(deg(*m.rise_angle_rad), to_truncation(clip.rise_deg(), 0.02));
}
