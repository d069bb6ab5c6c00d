// SPDX-License-Identifier: Apache-2.0
/// \file polar_match.h
/// How well an unwrapped picture shows a known arm in each direction. Internal to tracking.
#pragma once

#include "tracking/polar_arm.h"

#include <vector>

namespace swingloss {

/// Compares pictures with an arm before its background. The arm and the background are shared,
/// not copied.
class PolarMatch {
 public:
  /// \param background  unwrapped, CV_32FC1, below 0 outside the picture
  /// \param least_presence  places where less of the arm was found do not count
  /// \param cap_levels  a pixel is off by that much at most: it may show neither
  PolarMatch(const cv::Mat& background,
             const PolarArm& arm,
             float least_presence,
             double cap_levels);

  /// How much better the arm explains the picture than the background does: one a bin, 0 where
  /// it does not.
  /// \param look  unwrapped, CV_8UC1
  [[nodiscard]] std::vector<float> scores(const cv::Mat& look) const;

 private:
  struct Cell {
    int row, bin;
    float look, weight;
  };
  cv::Mat background_;
  float cap_;
  std::vector<Cell> cells_;
};

/// Vertex of the parabola through a bin's score and its neighbours', in bins from it.
[[nodiscard]] double vertex(const std::vector<float>& scores, int bin);

}  // namespace swingloss
