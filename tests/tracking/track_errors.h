// SPDX-License-Identifier: Apache-2.0
/// \file track_errors.h
/// How far a track is off the truth.
#pragma once

#include "core/angle.h"
#include "core/angle_track.h"
#include "support/test.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace swingloss::test {

/// The track's errors about their median [rad].
inline std::vector<double> errors_of(const AngleTrack& found,
                                     const std::vector<double>& true_deg,
                                     double sign) {
  std::vector<double> errors;
  for (const AngleSample& s : found.samples) {
    errors.push_back(sign * s.theta_rad -
                     Angle::from_deg(true_deg[std::size_t(s.frame)]).rad());
  }
  std::vector<double> sorted = errors;
  std::sort(sorted.begin(), sorted.end());
  for (double& error : errors) error = std::abs(error - sorted[sorted.size() / 2]);
  return errors;
}

/// What two thirds of the values stay below.
inline double two_thirds(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values[values.size() * 68 / 100];
}

/// The errors, each over its own stated uncertainty with all doubts: near 1 when that is
/// honest, far below when it is timid.
inline double two_thirds_in_u(const AngleTrack& found,
                              const std::vector<double>& true_deg,
                              double sign) {
  std::vector<double> errors = errors_of(found, true_deg, sign);
  for (std::size_t i = 0; i < errors.size(); ++i) {
    double variance = std::pow(found.samples[i].u_rad, 2);
    for (const SharedDoubt& doubt : found.doubts) {
      // The zero is free, in the errors as in the doubts.
      variance += std::pow(doubt.shape_rad(Eigen::Index(i)) - doubt.shape_rad.mean(), 2);
    }
    errors[i] /= std::sqrt(variance);
  }
  return two_thirds(std::move(errors));
}

/// One error of a whole clip is one draw of its shared doubts: between a tenth and one and a
/// half.
inline const auto kHonest = to_truncation(0.8, 0.7);

}  // namespace swingloss::test
