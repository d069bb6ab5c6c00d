// SPDX-License-Identifier: Apache-2.0
/// \file outliers.h
/// Bars to look at again. Nothing here drops a bar.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

namespace swingloss {

/// Grubbs' test of the value farthest from the mean.
struct GrubbsTest {
  std::size_t farthest = 0;  ///< index into the values
  double g = 0.0;            ///< |value - mean| / s
  double critical = 0.0;     ///< two-sided point
  bool flagged = false;      ///< g above `critical`
};

/// Whether one value lies farther out than normal scatter explains [Grubbs1969], two-sided.
/// \param alpha  chance of a false flag, 0.05 by default
/// \return nothing for fewer than three values or no scatter
[[nodiscard]] std::optional<GrubbsTest> grubbs_test(const std::vector<double>& values,
                                                    double alpha = 0.05);

/// Largest |value - mean| / s that normal scatter exceeds with probability `alpha`.
/// \param n  number of values, >= 3
[[nodiscard]] double grubbs_critical(int n, double alpha, bool two_sided = true);

/// One point of a normal-scores plot.
struct NormalScore {
  std::size_t index = 0;  ///< of the value in the given order
  double score = 0.0;     ///< Phi^-1((rank - 3/8) / (n + 1/4)) [Blom1958]
  double value = 0.0;
};

/// The plot that is straight for normal values, and how straight it is.
struct NormalScores {
  std::vector<NormalScore> points;  ///< rising value; equal values in input order
  double correlation = 0.0;         ///< of score and value; 1 is a straight line
  double critical = 0.0;            ///< below this in 5 of 100 normal samples
  bool flagged = false;             ///< correlation below `critical`
};

/// Normal scores and their correlation with the values [RyanJoiner1976].
///
/// The 5 % point is the published approximation 1.0063 - 0.1288/sqrt(n) - 0.6118/n +
/// 1.3505/n^2; its rate of false flags is checked by simulation
/// (tests/ranking/outliers_test.cc).
/// \return nothing for fewer than four values or no scatter
[[nodiscard]] std::optional<NormalScores> normal_scores(const std::vector<double>& values);

}  // namespace swingloss
