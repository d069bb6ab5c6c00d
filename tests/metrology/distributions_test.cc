// SPDX-License-Identifier: Apache-2.0
#include "metrology/distributions.h"

#include "support/test.h"

#include <cmath>
#include <limits>

using namespace swingloss;

namespace {
constexpr double kInfinity = std::numeric_limits<double>::infinity();
}

TEST_CASE("the normal has its handbook values", "[metrology][truth]") {
  // Abramowitz & Stegun, Handbook of Mathematical Functions, Table 26.1 and 26.2 (from memory,
  // and the closed form erfc(z / sqrt 2) / 2): Phi(1) 0.8413447461, 1.959963985 at 97.5 %.
  CHECK_THAT(normal_cdf(1.0), test::to_printed_digits(0.8413447461, 10));
  CHECK_THAT(normal_quantile(0.975), test::to_printed_digits(1.959963985, 10));
  CHECK_THAT(normal_pdf(0.0), test::to_printed_digits(0.3989422804, 10));
  // Another route to the same tail: the library's erfc; a few roundings in either.
  CHECK_THAT(normal_upper_tail(10.0),
             test::to_rounding(0.5 * std::erfc(10.0 / std::sqrt(2.0)), 64));
}

TEST_CASE("Student's t has its closed forms", "[metrology][truth]") {
  // One degree of freedom is Cauchy: 1/2 + atan(t)/pi; two: t / sqrt(2 + t^2) in closed form.
  // A dozen roundings in either.
  for (const double t : {-3.0, -0.5, 0.0, 1.0, 12.7}) {
    CAPTURE(t);
    CHECK_THAT(student_cdf(t, 1.0),
               test::to_rounding(0.5 + std::atan(t) / std::acos(-1.0), 16));
    CHECK_THAT(student_cdf(t, 2.0),
               test::to_rounding(0.5 * (1.0 + t / std::sqrt(2.0 + t * t)), 16));
    CHECK(student_cdf(t, kInfinity) == normal_cdf(t));
    CHECK(student_upper_tail(t, kInfinity) == normal_upper_tail(t));
  }
  CHECK(student_quantile(0.975, kInfinity) == normal_quantile(0.975));
  // Two-sided p of Student's sleep data by Welch, R's t.test: t -1.860813, df 17.776474.
  CHECK_THAT(2.0 * student_upper_tail(1.860813, 17.776474),
             test::to_printed_digits(0.079394, 5));
}

TEST_CASE("the noncentral t gives the power of the two-sample test", "[metrology][truth]") {
  // R's power.t.test(n, delta, sd = 1, strict = TRUE): both tails beyond the 5 % point.
  struct Case {
    double n, delta, power;
  };
  for (const Case& c : {Case{3, 1.0, 0.158790870006124},
                        Case{5, 1.5, 0.549385597762642},
                        Case{5, 2.0, 0.790542377972668},
                        Case{10, 1.0, 0.562006646586232},
                        Case{30, 0.5, 0.477896520760209}}) {
    CAPTURE(c.n, c.delta);
    const double dof = 2.0 * (c.n - 1.0);
    const double noncentrality = c.delta * std::sqrt(c.n / 2.0);
    const double t = student_quantile(0.975, dof);
    const double power = noncentral_t_upper_tail(t, dof, noncentrality) +
                         noncentral_t_cdf(-t, dof, noncentrality);
    CHECK_THAT(power, test::to_printed_digits(c.power, 8));
  }
}

TEST_CASE("the noncentral t gives one-sided tolerance factors", "[metrology][truth]") {
  // k = t'(0.95; n - 1, z sqrt n) / sqrt n; NIST/SEMATECH handbook 7.2.6.3 and tables after
  // Hahn & Meeker, recomputed: 95/95, n = 5: 4.2027, n = 10: 2.9110; 90/95, n = 3: 6.1553.
  struct Case {
    double n, content, k;
  };
  for (const Case& c : {Case{5, 0.95, 4.2027}, Case{10, 0.95, 2.9110}, Case{3, 0.90, 6.1553}}) {
    CAPTURE(c.n, c.content);
    const double root_n = std::sqrt(c.n);
    const double k =
        noncentral_t_quantile(0.95, c.n - 1.0, normal_quantile(c.content) * root_n) / root_n;
    CHECK_THAT(k, test::to_printed_digits(c.k, 5));
  }
}

TEST_CASE("chi squared and F have their closed forms", "[metrology][truth]") {
  // Two degrees of freedom: 1 - exp(-x/2). F(2, 2): x / (1 + x). F(1, n) is t squared. A dozen
  // roundings in either.
  for (const double x : {0.1, 1.0, 5.0}) {
    CAPTURE(x);
    CHECK_THAT(chi_squared_upper_tail(x, 2.0), test::to_rounding(std::exp(-x / 2.0), 16));
    CHECK_THAT(chi_squared_cdf(x, 2.0), test::to_rounding(-std::expm1(-x / 2.0), 16));
    CHECK_THAT(f_cdf(x, 2.0, 2.0), test::to_rounding(x / (1.0 + x), 16));
    CHECK_THAT(f_upper_tail(x, 1.0, 7.0),
               test::to_rounding(2.0 * student_upper_tail(std::sqrt(x), 7.0), 64));
  }
  // Handbook tables (from memory): chi squared 95 % of 10: 18.307; F 95 % of (3, 20): 3.10.
  CHECK_THAT(chi_squared_quantile(0.95, 10.0), test::to_printed_digits(18.307, 5));
  CHECK_THAT(f_quantile(0.95, 3.0, 20.0), test::to_printed_digits(3.10, 3));
}

TEST_CASE("quantiles undo the cumulative distributions", "[metrology]") {
  // The slope at these points lies between 0.05 and 0.5, so a rounding of p is a few of x.
  for (const double p : {0.05, 0.3, 0.9}) {
    CAPTURE(p);
    CHECK_THAT(normal_cdf(normal_quantile(p)), test::to_rounding(p, 32));
    CHECK_THAT(student_cdf(student_quantile(p, 3.7), 3.7), test::to_rounding(p, 32));
    CHECK_THAT(chi_squared_cdf(chi_squared_quantile(p, 3.7), 3.7), test::to_rounding(p, 32));
    CHECK_THAT(f_cdf(f_quantile(p, 2.5, 9.0), 2.5, 9.0), test::to_rounding(p, 32));
    // Found by bisection to about half the digits' square root more: 1e-10 is promised.
    CHECK_THAT(noncentral_t_cdf(noncentral_t_quantile(p, 4.0, 2.0), 4.0, 2.0),
               test::to_truncation(p, 1e-10));
  }
}

TEST_CASE("distributions refuse nonsense", "[metrology]") {
  const double nan = std::nan("");
  CHECK_THROWS_AS(normal_cdf(nan), std::logic_error);
  CHECK_THROWS_AS(normal_quantile(0.0), std::logic_error);
  CHECK_THROWS_AS(normal_quantile(1.0), std::logic_error);
  CHECK_THROWS_AS(student_cdf(1.0, 0.0), std::logic_error);
  CHECK_THROWS_AS(student_cdf(1.0, nan), std::logic_error);
  CHECK_THROWS_AS(student_cdf(1.0, -kInfinity), std::logic_error);
  CHECK_THROWS_AS(noncentral_t_cdf(1.0, 3.0, kInfinity), std::logic_error);
  CHECK_THROWS_AS(chi_squared_cdf(-1.0, 3.0), std::logic_error);
  CHECK_THROWS_AS(f_cdf(1.0, 3.0, 0.0), std::logic_error);
}
