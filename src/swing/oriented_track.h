// SPDX-License-Identifier: Apache-2.0
/// \file oriented_track.h
/// A track turned so that the fall of interest comes from its positive side.
#pragma once

#include "core/angle_track.h"
#include "swing/find_falls.h"

#include <optional>
#include <string>
#include <vector>

#include <Eigen/Core>

namespace swingloss {

struct OrientedTrack {
  double direction = 1.0;                ///< oriented angle = direction * the track's angle
  std::vector<AngleSample> samples;      ///< in order of time, each time once
  std::vector<std::size_t> track_index;  ///< of each sample
  Eigen::MatrixXd shapes_rad;            ///< a row a sample, a column a doubt
  std::vector<std::string> doubt_sources;
  std::vector<std::string> doubt_families;  ///< likewise; empty: of none
  Eigen::VectorXd doubt_sizes;    ///< by which each column is smaller than the track has it
  std::size_t stated_doubts = 0;  ///< columns that are the track's own, the first ones
  double interval_s = 0.0;        ///< usual time between samples
  double u_place_rad = 0.0;       ///< as the track has it
};

/// As it stands, in order of time; samples of a time already seen, without u, or not finite are
/// left out.
[[nodiscard]] OrientedTrack as_it_stands(const AngleTrack& track);

/// Angles and shapes with the other sign; what was found in them likewise.
[[nodiscard]] OrientedTrack mirrored(OrientedTrack track);
[[nodiscard]] FallsFound mirrored(FallsFound found);

/// Without samples that lie farther from the running median of five than the medians about
/// them move (two and a half steps, and ten u): a hand, a fragment, a mistake of the tracker.
/// What is left may still hold lesser outliers.
[[nodiscard]] OrientedTrack without_wild(const OrientedTrack& track);

/// Every k-th sample, so that at most `most` remain: a log of a thousand samples a second says
/// no more about a swing of a second than one of a hundred.
[[nodiscard]] OrientedTrack thinned(const OrientedTrack& track, std::size_t most);

/// Times of a steady picture rate, where the samples' own waver about one.
struct SteadyTimes {
  std::vector<double> t_s;    ///< one a sample
  double interval_s = 0.0;    ///< of the steady rate
  double waver_s = 0.0;       ///< rms of the own times about it
  double u_rate_ratio = 0.0;  ///< relative standard uncertainty of the rate, from the waver
};

/// \return nothing when the times are steady already, or not near any steady rate: all within
///         0.3 of an interval of whole counts, missing pictures allowed
[[nodiscard]] std::optional<SteadyTimes> steady_times(const std::vector<AngleSample>& samples);

/// The track with the steady times that belong to its samples.
[[nodiscard]] OrientedTrack at_steady_times(OrientedTrack track, const SteadyTimes& steady);

}  // namespace swingloss
