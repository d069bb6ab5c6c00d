// SPDX-License-Identifier: Apache-2.0
/// \file local_motion.h
/// Angle, speed and acceleration at each sample, from its neighbours alone.
#pragma once

#include "core/angle_track.h"

#include <vector>

namespace swingloss {

/// Parabola through the samples about one of them, robust where seven or more are near.
struct LocalMotion {
  double theta_rad = 0.0;
  double omega_rad_per_s = 0.0;
  double alpha_rad_per_s2 = 0.0;
  double scatter_rad = 0.0;  ///< of the samples about the parabola
  bool known = false;        ///< false: too few neighbours, or a gap among them
};

/// \param half_width_s  neighbours within this time on either side; widened to five samples
///                      where there are fewer, but to no more than twice the width
/// \return one entry a sample
[[nodiscard]] std::vector<LocalMotion> local_motion(const std::vector<AngleSample>& samples,
                                                    double half_width_s);

/// Each angle replaced by the median of five about it.
[[nodiscard]] std::vector<AngleSample> running_median(const std::vector<AngleSample>& samples);

/// Angles farther from the median of the five about them than the other four are from one
/// another (and ten u), replaced by it: a wild sample vanishes, motion stays untouched.
[[nodiscard]] std::vector<AngleSample> without_spikes(const std::vector<AngleSample>& samples);

/// A stretch of samples that do not move.
struct StaticStretch {
  std::size_t begin = 0, end = 0;  ///< half open
  double theta_rad = 0.0;          ///< mean
};

/// Runs of at least four samples and `shortest_s` that stay within `band_rad` of their mean.
[[nodiscard]] std::vector<StaticStretch> static_stretches(
    const std::vector<AngleSample>& samples, double band_rad, double shortest_s);

/// Median of the time from one sample to the next; 0 for fewer than two.
[[nodiscard]] double usual_interval_s(const std::vector<AngleSample>& samples);

}  // namespace swingloss
