// SPDX-License-Identifier: Apache-2.0
/// \file residual_noise.h
/// What the residuals of a fit say about the noise in them.
#pragma once

#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// Standard deviation of residual i: hypot(scale u_i, jitter_s omega_i).
struct NoiseModel {
  double scale = 1.0;     ///< by which the samples' own u is too small
  double jitter_s = 0.0;  ///< of the time stamps, or anything else that grows with speed
};

/// Residuals with what is known of each.
struct ResidualSet {
  Eigen::VectorXd residual_rad;
  Eigen::VectorXd u_rad;
  Eigen::VectorXd omega_rad_per_s;
  double parameters = 0.0;  ///< fitted to them; one held by a prior counts in part
};

/// Maximum likelihood for independent normal residuals. The jitter is kept only where the
/// likelihood ratio speaks clearly for it (twice its logarithm above 10: a chance of about one
/// in a thousand).
[[nodiscard]] NoiseModel noise_of(const ResidualSet& set);

/// Noise in which each error remembers the one before: correlation rho^k at lag k.
struct Memory {
  double rho = 0.0;  ///< 0: none that shows
  double variance_factor =
      1.0;  ///< true variance over that of the residuals, which a fit makes too small

  /// By how much the variance of a mean grows: (1 + rho) / (1 - rho).
  [[nodiscard]] double inefficiency() const { return (1.0 + rho) / (1.0 - rho); }
};

/// Orthonormal directions of the data that a fit follows, shortened where a prior holds it
/// back: H = Q Q' is the matrix that turns data into fitted values. Q.squaredNorm() counts the
/// parameters, one that a prior holds in part.
///
/// \param jacobian  a row a residual, in units of its standard deviation
/// \param prior     information (inverse covariance) of the parameters from elsewhere; of no
///                  size when there is none
[[nodiscard]] Eigen::MatrixXd followed_directions(const Eigen::MatrixXd& jacobian,
                                                  const Eigen::MatrixXd& prior);

/// The memory that, seen through the fit (which takes out what it can follow), leaves the lag-1
/// correlation that the residuals have. Without that correction a fit of a dozen parameters to
/// a hundred samples hides half of it. 0 unless the correlation is 1.64 standard deviations
/// above what independent noise would leave.
///
/// \param whitened    residuals in units of their standard deviation, in the order of time
/// \param followed    followed_directions() of the fit
/// \param contiguous  entry i: residuals i and i+1 are neighbours in time on one piece
[[nodiscard]] Memory memory_of(const Eigen::VectorXd& whitened,
                               const Eigen::MatrixXd& followed,
                               const std::vector<bool>& contiguous);

/// R x with R the correlation matrix of that memory, a column at a time.
[[nodiscard]] Eigen::MatrixXd correlated_rows(const Eigen::MatrixXd& rows,
                                              double rho,
                                              const std::vector<bool>& contiguous);

}  // namespace swingloss
