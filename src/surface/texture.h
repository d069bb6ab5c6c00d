// SPDX-License-Identifier: Apache-2.0
/// \file texture.h
/// Texture by its textbook definitions.
#pragma once

#include <array>
#include <vector>

#include <Eigen/Core>
#include <opencv2/core.hpp>

namespace swingloss {

/// How often two levels stand at an offset from one another, both ways round [Haralick1973].
/// \param levels  CV_8UC1, values 0 .. count - 1
/// \param offset  (columns, rows); not (0, 0)
/// \return counts, symmetric
[[nodiscard]] Eigen::MatrixXd cooccurrence(const cv::Mat& levels,
                                           int count,
                                           const cv::Point& offset);

/// Features of a co-occurrence matrix, p = counts / sum [Haralick1973]; natural logarithm.
struct CooccurrenceFeatures {
  double second_moment = 0.0;  ///< sum p^2
  double contrast = 0.0;       ///< sum (i - j)^2 p
  double homogeneity = 0.0;    ///< sum p / (1 + (i - j)^2)
  double correlation = 0.0;    ///< of the two levels; 1 where all are alike
  double entropy = 0.0;        ///< - sum p ln p
};
[[nodiscard]] CooccurrenceFeatures features_of(const Eigen::MatrixXd& counts);

/// Levels 0 .. count - 1, equally filled: only the order of brightness counts, so exposure and
/// any display curve leave them alone. Equal values share a level. \param values  CV_32FC1
[[nodiscard]] cv::Mat equal_levels(const cv::Mat& values, int count);

/// Local binary pattern of the eight neighbours, first to the upper left, then clockwise with
/// weights 1, 2, 4, ...: 1 where the neighbour is not less than the middle [Ojala1996].
[[nodiscard]] int local_pattern(const cv::Mat& values, int row, int column);

/// Class of a pattern that turning leaves alone: the number of ones where the circle changes at
/// most twice (0 to 8), else 9 [Ojala2002].
[[nodiscard]] int turned_pattern_class(int pattern);

/// Shares of the ten classes over the inside of a picture. \param values  CV_32FC1
[[nodiscard]] std::array<double, 10> pattern_shares(const cv::Mat& values);

/// Box-counting dimension: minus the slope of log N(s) over log s, N the number of boxes of
/// side s that hold a set pixel [Mandelbrot1984]. \param set    CV_8UC1, not 0: of the set
/// \param sides  of the boxes [px], at least two, laid from the top left corner
[[nodiscard]] double box_dimension(const cv::Mat& set, const std::vector<int>& sides);

}  // namespace swingloss
