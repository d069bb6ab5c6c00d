// SPDX-License-Identifier: Apache-2.0
#include "metrology/distributions.h"

#include "core/expects.h"

#include <cmath>

#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/complement.hpp>
#include <boost/math/distributions/fisher_f.hpp>
#include <boost/math/distributions/non_central_t.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>

namespace swingloss {
namespace {

namespace bm = boost::math;

template <typename Distribution>
double cdf_at(const Distribution& distribution, double x) {
  expects(!std::isnan(x), "a distribution was asked at NaN");
  return bm::cdf(distribution, x);
}

template <typename Distribution>
double upper_tail_at(const Distribution& distribution, double x) {
  expects(!std::isnan(x), "a distribution was asked at NaN");
  return bm::cdf(bm::complement(distribution, x));
}

template <typename Distribution>
double quantile_at(const Distribution& distribution, double p) {
  expects(p > 0.0 && p < 1.0, "a quantile's probability must lie between 0 and 1");
  return bm::quantile(distribution, p);
}

double checked_dof(double dof) {
  expects(dof > 0.0 && std::isfinite(dof), "degrees of freedom must be positive and finite");
  return dof;
}

double checked_above_zero(double x) {
  expects(x >= 0.0, "this distribution has no values below 0");
  return x;
}

bool is_normal(double dof) { return std::isinf(dof) && dof > 0.0; }

bm::non_central_t noncentral_t(double dof, double noncentrality) {
  expects(std::isfinite(noncentrality), "a noncentrality must be finite");
  return {checked_dof(dof), noncentrality};
}

bm::fisher_f fisher_f(double numerator_dof, double denominator_dof) {
  return {checked_dof(numerator_dof), checked_dof(denominator_dof)};
}

}  // namespace

double normal_pdf(double z) { return bm::pdf(bm::normal(), z); }
double normal_cdf(double z) { return cdf_at(bm::normal(), z); }
double normal_upper_tail(double z) { return upper_tail_at(bm::normal(), z); }
double normal_quantile(double p) { return quantile_at(bm::normal(), p); }

double student_cdf(double t, double degrees_of_freedom) {
  if (is_normal(degrees_of_freedom)) return normal_cdf(t);
  return cdf_at(bm::students_t(checked_dof(degrees_of_freedom)), t);
}

double student_upper_tail(double t, double degrees_of_freedom) {
  if (is_normal(degrees_of_freedom)) return normal_upper_tail(t);
  return upper_tail_at(bm::students_t(checked_dof(degrees_of_freedom)), t);
}

double student_quantile(double p, double degrees_of_freedom) {
  if (is_normal(degrees_of_freedom)) return normal_quantile(p);
  return quantile_at(bm::students_t(checked_dof(degrees_of_freedom)), p);
}

double noncentral_t_cdf(double t, double degrees_of_freedom, double noncentrality) {
  return cdf_at(noncentral_t(degrees_of_freedom, noncentrality), t);
}

double noncentral_t_upper_tail(double t, double degrees_of_freedom, double noncentrality) {
  return upper_tail_at(noncentral_t(degrees_of_freedom, noncentrality), t);
}

double noncentral_t_quantile(double p, double degrees_of_freedom, double noncentrality) {
  return quantile_at(noncentral_t(degrees_of_freedom, noncentrality), p);
}

double chi_squared_cdf(double x, double degrees_of_freedom) {
  return cdf_at(bm::chi_squared(checked_dof(degrees_of_freedom)), checked_above_zero(x));
}

double chi_squared_upper_tail(double x, double degrees_of_freedom) {
  return upper_tail_at(bm::chi_squared(checked_dof(degrees_of_freedom)), checked_above_zero(x));
}

double chi_squared_quantile(double p, double degrees_of_freedom) {
  return quantile_at(bm::chi_squared(checked_dof(degrees_of_freedom)), p);
}

double f_cdf(double x, double numerator_dof, double denominator_dof) {
  return cdf_at(fisher_f(numerator_dof, denominator_dof), checked_above_zero(x));
}

double f_upper_tail(double x, double numerator_dof, double denominator_dof) {
  return upper_tail_at(fisher_f(numerator_dof, denominator_dof), checked_above_zero(x));
}

double f_quantile(double p, double numerator_dof, double denominator_dof) {
  return quantile_at(fisher_f(numerator_dof, denominator_dof), p);
}

}  // namespace swingloss
