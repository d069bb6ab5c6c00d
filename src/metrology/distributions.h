// SPDX-License-Identifier: Apache-2.0
/// \file distributions.h
/// The sampling distributions that intervals, tests and plans are made of.
///
/// For each: `_cdf(x)` = P(X <= x); `_upper_tail(x)` = P(X > x), accurate where it is small,
/// which 1 - cdf is not; `_quantile(p)`, the x with cdf p, 0 < p < 1.
/// Degrees of freedom need not be whole numbers; > 0, and infinity where said.
/// \throws std::logic_error for arguments outside these ranges or NaN
///
/// Accuracy: about 1e-14 relative, noncentral t 1e-10 (tests/metrology/distributions_test.cc).
#pragma once

namespace swingloss {

/// Standard normal.
[[nodiscard]] double normal_pdf(double z);
[[nodiscard]] double normal_cdf(double z);
[[nodiscard]] double normal_upper_tail(double z);
[[nodiscard]] double normal_quantile(double p);

/// Student's t; degrees_of_freedom may be infinite: the normal.
[[nodiscard]] double student_cdf(double t, double degrees_of_freedom);
[[nodiscard]] double student_upper_tail(double t, double degrees_of_freedom);
[[nodiscard]] double student_quantile(double p, double degrees_of_freedom);

/// Noncentral t, (Z + noncentrality) / sqrt(chi2 / degrees_of_freedom): the t statistic when
/// the difference is real; power and one-sided tolerance factors.
[[nodiscard]] double noncentral_t_cdf(double t,
                                      double degrees_of_freedom,
                                      double noncentrality);
[[nodiscard]] double noncentral_t_upper_tail(double t,
                                             double degrees_of_freedom,
                                             double noncentrality);
[[nodiscard]] double noncentral_t_quantile(double p,
                                           double degrees_of_freedom,
                                           double noncentrality);

/// Chi squared; x >= 0.
[[nodiscard]] double chi_squared_cdf(double x, double degrees_of_freedom);
[[nodiscard]] double chi_squared_upper_tail(double x, double degrees_of_freedom);
[[nodiscard]] double chi_squared_quantile(double p, double degrees_of_freedom);

/// Fisher's F; x >= 0; the numerator's degrees of freedom first.
[[nodiscard]] double f_cdf(double x, double numerator_dof, double denominator_dof);
[[nodiscard]] double f_upper_tail(double x, double numerator_dof, double denominator_dof);
[[nodiscard]] double f_quantile(double p, double numerator_dof, double denominator_dof);

}  // namespace swingloss
