// SPDX-License-Identifier: Apache-2.0
#include "swing/oriented_track.h"

#include "core/expects.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace swingloss {
namespace {

OrientedTrack of_rows(const OrientedTrack& track, const std::vector<std::size_t>& rows) {
  OrientedTrack out;
  out.direction = track.direction;
  out.doubt_sources = track.doubt_sources;
  out.doubt_families = track.doubt_families;
  out.doubt_sizes = track.doubt_sizes;
  out.stated_doubts = track.stated_doubts;
  out.shapes_rad.resize(static_cast<Eigen::Index>(rows.size()), track.shapes_rad.cols());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    out.samples.push_back(track.samples[rows[i]]);
    out.track_index.push_back(track.track_index[rows[i]]);
    out.shapes_rad.row(static_cast<Eigen::Index>(i)) =
        track.shapes_rad.row(static_cast<Eigen::Index>(rows[i]));
  }
  out.interval_s = usual_interval_s(out.samples);
  out.u_place_rad = track.u_place_rad;
  return out;
}

bool usable(const AngleSample& sample) {
  return std::isfinite(sample.t_s) && std::isfinite(sample.theta_rad) &&
         std::isfinite(sample.u_rad) && sample.u_rad > 0.0;
}

}  // namespace

OrientedTrack as_it_stands(const AngleTrack& track) {
  OrientedTrack all;
  all.samples = track.samples;
  all.u_place_rad = track.u_place_rad;
  all.track_index.resize(track.samples.size());
  std::iota(all.track_index.begin(), all.track_index.end(), std::size_t{0});
  all.shapes_rad = Eigen::MatrixXd::Zero(static_cast<Eigen::Index>(track.samples.size()),
                                         static_cast<Eigen::Index>(track.doubts.size()));
  for (std::size_t j = 0; j < track.doubts.size(); ++j) {
    expects(track.doubts[j].shape_rad.size() == all.shapes_rad.rows(),
            "the shape of a doubt has not one entry a sample");
    all.shapes_rad.col(static_cast<Eigen::Index>(j)) = track.doubts[j].shape_rad;
    all.doubt_sources.push_back(track.doubts[j].source);
    all.doubt_families.push_back(track.doubts[j].family);
  }
  all.doubt_sizes = Eigen::VectorXd::Ones(all.shapes_rad.cols());
  all.stated_doubts = track.doubts.size();
  std::vector<std::size_t> rows;
  for (std::size_t i = 0; i < track.samples.size(); ++i) {
    if (usable(track.samples[i])) rows.push_back(i);
  }
  std::stable_sort(rows.begin(), rows.end(), [&](std::size_t a, std::size_t b) {
    return track.samples[a].t_s < track.samples[b].t_s;
  });
  const auto twice = std::unique(rows.begin(), rows.end(), [&](std::size_t a, std::size_t b) {
    return track.samples[a].t_s == track.samples[b].t_s;
  });
  rows.erase(twice, rows.end());
  return of_rows(all, rows);
}

OrientedTrack mirrored(OrientedTrack track) {
  track.direction = -track.direction;
  for (AngleSample& sample : track.samples) sample.theta_rad = -sample.theta_rad;
  track.shapes_rad = -track.shapes_rad;
  return track;
}

FallsFound mirrored(FallsFound found) {
  found.guess.zero_rad = -found.guess.zero_rad;
  for (LocalMotion& m : found.guess.motion) {
    m = {-m.theta_rad, -m.omega_rad_per_s, -m.alpha_rad_per_s2, m.scatter_rad, m.known};
  }
  for (StaticStretch& still : found.still) still.theta_rad = -still.theta_rad;
  for (Fall& fall : found.falls) {
    fall.side = -fall.side;
    if (fall.hold) fall.hold->theta_rad = -fall.hold->theta_rad;
  }
  return found;
}

OrientedTrack without_wild(const OrientedTrack& track) {
  const std::size_t n = track.samples.size();
  const std::vector<AngleSample> median = running_median(track.samples);
  std::vector<std::size_t> rows;
  for (std::size_t i = 0; i < n; ++i) {
    double step_rad = 0.0;
    for (std::size_t k = i < 3 ? 1 : i - 2; k < std::min(n, i + 4); ++k) {
      step_rad = std::max(step_rad, std::abs(median[k].theta_rad - median[k - 1].theta_rad));
    }
    const double reach_rad = 2.5 * step_rad + 10.0 * track.samples[i].u_rad;
    if (std::abs(track.samples[i].theta_rad - median[i].theta_rad) <= reach_rad)
      rows.push_back(i);
  }
  return of_rows(track, rows);
}

OrientedTrack thinned(const OrientedTrack& track, std::size_t most) {
  const std::size_t step = (track.samples.size() + most - 1) / most;
  if (step <= 1) return track;
  std::vector<std::size_t> rows;
  for (std::size_t i = 0; i < track.samples.size(); i += step) rows.push_back(i);
  return of_rows(track, rows);
}

std::optional<SteadyTimes> steady_times(const std::vector<AngleSample>& samples) {
  const std::size_t n = samples.size();
  const double usual_s = usual_interval_s(samples);
  if (n < 12 || usual_s <= 0.0) return std::nullopt;
  std::vector<double> count{0.0};
  // Counting from sample to sample: waver does not add up over a long clip.
  for (std::size_t i = 1; i < n; ++i) {
    const double steps = (samples[i].t_s - samples[i - 1].t_s) / usual_s;
    count.push_back(count.back() + std::max(1.0, std::round(steps)));
  }
  double mean_count = 0.0;
  double mean_s = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    mean_count += count[i] / static_cast<double>(n);
    mean_s += samples[i].t_s / static_cast<double>(n);
  }
  double cross = 0.0;
  double square = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    cross += (count[i] - mean_count) * (samples[i].t_s - mean_s);
    square += (count[i] - mean_count) * (count[i] - mean_count);
  }
  SteadyTimes steady;
  steady.interval_s = cross / square;
  double sum = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    steady.t_s.push_back(mean_s + steady.interval_s * (count[i] - mean_count));
    const double off_s = samples[i].t_s - steady.t_s[i];
    if (std::abs(off_s) > 0.3 * steady.interval_s) return std::nullopt;
    sum += off_s * off_s;
  }
  steady.waver_s = std::sqrt(sum / static_cast<double>(n));
  if (steady.waver_s < 1e-3 * steady.interval_s) return std::nullopt;
  steady.u_rate_ratio = steady.waver_s / (steady.interval_s * std::sqrt(square));
  return steady;
}

OrientedTrack at_steady_times(OrientedTrack track, const SteadyTimes& steady) {
  for (std::size_t i = 0; i < track.samples.size(); ++i) {
    track.samples[i].t_s = steady.t_s[i];
  }
  track.interval_s = usual_interval_s(track.samples);
  return track;
}

}  // namespace swingloss
