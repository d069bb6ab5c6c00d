// SPDX-License-Identifier: Apache-2.0
/// \file shared_sources.h
/// Doubts that move several groups together, kept by name.
#pragma once

#include "ranking/budget.h"
#include "ranking/ratio.h"
#include "ranking/welch.h"

#include <string>
#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// What each shared source does to the mean of each group.
struct SharedSources {
  std::vector<std::string> names;          ///< in order of name
  std::vector<double> degrees_of_freedom;  ///< one a source
  Eigen::MatrixXd
      contributions;  ///< a row a group, a column a source; signed, unit of the means

  /// Variance of (mean a - mean b) from all sources together: what two groups of one rig share
  /// cancels here.
  [[nodiscard]] CombinedVariance of_difference(std::size_t a, std::size_t b) const;
  /// The same for ln(mean a / mean b), relative.
  [[nodiscard]] CombinedVariance of_log_ratio(std::size_t a,
                                              std::size_t b,
                                              double mean_a,
                                              double mean_b) const;
  /// Variance of (mean a - mean b) from what could turn their order round: source by source the
  /// smaller of the two above. A moment moves both means in proportion and a zero moves both
  /// alike; neither changes which is larger.
  [[nodiscard]] CombinedVariance of_order(std::size_t a,
                                          std::size_t b,
                                          double mean_a,
                                          double mean_b) const;
  [[nodiscard]] CombinedVariance of_mean(std::size_t group) const;
  [[nodiscard]] SharedCovariance covariance(std::size_t a, std::size_t b) const;
};

/// Mean of the shared contributions of each group's bars.
/// \param members  a list of bars a group, indices into `bars`; each with a value
/// Where bars give one source different degrees of freedom the smallest counts.
[[nodiscard]] SharedSources shared_sources(const std::vector<Bar>& bars,
                                           const std::vector<std::vector<std::size_t>>& members,
                                           Quantity quantity);

}  // namespace swingloss
