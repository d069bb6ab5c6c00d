// SPDX-License-Identifier: Apache-2.0
/// \file correlated.h
/// Correlated estimates as uncertain values with independent named sources.
#pragma once

#include "core/uncertain.h"
#include "metrology/least_squares.h"

#include <limits>
#include <string>
#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// Values with a joint covariance, written as
///
///   x_i = value_i + sum_k L_ik z_k,     L L' = covariance,   z independent, variance 1
///
/// with source `source[k]` for z_k, k from 1: the independent directions in which the estimate
/// may be wrong, the columns of L being the scaled eigenvectors of the covariance. Whatever is
/// computed from the values keeps their correlation [JCGM100 5.2.2, F.1.2.3 note].
///
/// The factors of one `source` count as one estimate in the degrees of freedom of results
/// (core/uncertain.h).
///
/// \param covariance  symmetric, positive semidefinite; the eigenvalues of its correlation
/// matrix
///                    may fall below 0 by 1e-6 of the largest, as rounding leaves them after an
///                    ill-conditioned fit, and count as 0. The u of each value is kept exactly.
/// \param source      without brackets; one name is one joint estimate
/// \param degrees_of_freedom  of the estimate of the covariance
/// \throws std::logic_error  sizes differ, entries not finite, not symmetric, indefinite
[[nodiscard]] std::vector<Uncertain> correlated(
    const Eigen::VectorXd& values,
    const Eigen::MatrixXd& covariance,
    const std::string& source,
    SourceKind kind,
    double degrees_of_freedom = std::numeric_limits<double>::infinity());

/// The parameters of a fit, in its order, with the degrees of freedom of its uncertainties.
[[nodiscard]] std::vector<Uncertain> correlated(const LeastSquaresFit& fit,
                                                const std::string& source,
                                                SourceKind kind);

/// Covariance of some values with one another, from their common sources [JCGM100 F.1.2.3].
[[nodiscard]] Eigen::MatrixXd covariance_of(const std::vector<Uncertain>& values);

}  // namespace swingloss
