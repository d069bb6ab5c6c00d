// SPDX-License-Identifier: Apache-2.0
// The worked examples of the Guide to the Expression of Uncertainty in Measurement. Figures
// marked "printed" are the Guide's; those with more digits were recomputed from the Guide's
// inputs with independent programs (R packages, GTC), which the Guide's rounding follows.
#include "metrology/correlated.h"
#include "metrology/coverage.h"
#include "metrology/evaluate.h"
#include "metrology/least_squares.h"
#include "support/test.h"

#include <cmath>

using namespace swingloss;

namespace {

constexpr auto kOwn = SourceKind::Own;

double correlation(const Uncertain& a, const Uncertain& b) {
  return covariance_of({a, b})(0, 1) / (a.u() * b.u());
}

}  // namespace

TEST_CASE("mean_of gives the temperature of the GUM's 20 readings", "[metrology][truth]") {
  // [JCGM100] 4.4.3 Table 1 (data from memory); printed: mean 100.14 (100.145), s 1.49, u 0.33.
  const std::vector<double> readings = {96.90,  98.18,  98.25,  98.61,  99.03,  99.49,  99.56,
                                        99.74,  99.89,  100.07, 100.33, 100.42, 100.68, 100.95,
                                        101.11, 101.20, 101.57, 101.84, 102.36, 102.72};
  const Uncertain mean = mean_of(readings, "thermometer", kOwn);
  CHECK_THAT(mean.value(), test::to_printed_digits(100.145, 6));
  CHECK_THAT(mean.u() * std::sqrt(20.0), test::to_printed_digits(1.49, 3));
  CHECK_THAT(mean.u(), test::to_printed_digits(0.33, 2));
  CHECK_THAT(mean.u(), test::to_printed_digits(0.3329157472046673, 12));
  CHECK(mean.degrees_of_freedom() == 19.0);
}

TEST_CASE("within gives the GUM's rectangular and triangular figures", "[metrology][truth]") {
  // [JCGM100] 4.4.5 and 4.4.6, limits 96 and 104: printed 2.3 and 1.6; H.1.3.4: arcsine of
  // half-width 0.5: 0.35; G.4.2: 25 % doubt is 8 degrees of freedom.
  CHECK_THAT(within({100.0, 4.0, ErrorShape::Rectangular}, "t", kOwn).u(),
             test::to_printed_digits(2.3, 2));
  CHECK_THAT(within({100.0, 4.0, ErrorShape::Triangular}, "t", kOwn).u(),
             test::to_printed_digits(1.6, 2));
  CHECK_THAT(within({0.0, 0.5, ErrorShape::Arcsine}, "t", kOwn).u(),
             test::to_printed_digits(0.35, 2));
  CHECK(within({0.0, 0.5, ErrorShape::Arcsine, 0.25}, "t", kOwn).degrees_of_freedom() == 8.0);
  CHECK(std::isinf(within({0.0, 0.5}, "t", kOwn).degrees_of_freedom()));
}

TEST_CASE("arithmetic reproduces the end gauge of the GUM", "[metrology][truth]") {
  // [JCGM100] H.1: l = ls + d - ls (d_alpha theta + alpha_s d_theta), nanometres and degrees C.
  // Printed: l 50 000 838, u_c 32, u(d) 9.7, 16 degrees of freedom (cut down), t99 2.92,
  // U99 93.
  const auto ls = Uncertain::from(50000623.0, 25.0, "standard", kOwn, 18.0);
  const Uncertain d = Uncertain::from(215.0, 5.8, "repeated", kOwn, 24.0) +
                      Uncertain::from(0.0, 3.9, "comparator random", kOwn, 5.0) +
                      Uncertain::from(0.0, 6.7, "comparator systematic", kOwn, 8.0);
  const Uncertain theta_c = Uncertain::from(-0.1, 0.2, "bed", kOwn) +
                            within({0.0, 0.5, ErrorShape::Arcsine}, "cycling", kOwn);
  const Uncertain alpha_per_c = within({11.5e-6, 2e-6}, "expansion", kOwn);
  const Uncertain d_alpha_per_c =
      within({0.0, 1e-6, ErrorShape::Rectangular, 0.1}, "expansion difference", kOwn);
  const Uncertain d_theta_c =
      within({0.0, 0.05, ErrorShape::Rectangular, 0.5}, "temperature difference", kOwn);
  const Uncertain l = ls + d - ls * (d_alpha_per_c * theta_c + alpha_per_c * d_theta_c);

  CHECK_THAT(d.u(), test::to_printed_digits(9.7, 2));
  CHECK_THAT(d.degrees_of_freedom(), test::to_printed_digits(25.447250777362726, 12));
  CHECK(l.value() == 50000838.0);
  CHECK_THAT(l.u(), test::to_printed_digits(32.0, 2));
  CHECK_THAT(l.u(), test::to_printed_digits(31.663879111008633, 12));
  CHECK_THAT(l.degrees_of_freedom(), test::to_printed_digits(16.75185573762724, 12));
  CHECK(std::floor(l.degrees_of_freedom()) == 16.0);
  CHECK_THAT(coverage_factor(0.99, 16.0), test::to_printed_digits(2.92, 3));
  // The Guide multiplies 2.92 by the rounded 32; unrounded it is 92.48.
  CHECK_THAT(coverage_factor(0.99, 16.0) * l.u(),
             test::to_printed_digits(92.48327619974597, 10));
  // At the estimates theta = -0.1 and d_alpha = d_theta = 0 the expansion itself drops out.
  CHECK(l.parts().size() == 6);
}

TEST_CASE("means_of keeps the correlation of the GUM's impedance", "[metrology][truth]") {
  // [JCGM100] H.2: five sets of voltage, current, phase read together. Printed: R 127.732 u
  // 0.071, X 219.847 u 0.295, Z 254.260 u 0.236, r -0.588, -0.485, 0.993 (third decimals from
  // memory); u(X) is 0.29558 from the raw data, which the Guide gives as 0.295.
  Eigen::MatrixXd readings(5, 3);
  readings << 5.007, 0.019663, 1.0456,  //
      4.994, 0.019639, 1.0438,          //
      5.005, 0.019640, 1.0468,          //
      4.990, 0.019685, 1.0428,          //
      4.999, 0.019678, 1.0433;
  const std::vector<Uncertain> means = means_of(readings, "readings", kOwn);
  const Uncertain& v = means[0];
  const Uncertain& i = means[1];
  const Uncertain& phi = means[2];
  CHECK_THAT(v.u(), test::to_printed_digits(0.0032, 2));
  CHECK_THAT(i.u(), test::to_printed_digits(9.5e-6, 2));
  CHECK_THAT(phi.u(), test::to_printed_digits(7.5e-4, 2));
  CHECK_THAT(correlation(v, i), test::to_printed_digits(-0.36, 2));
  CHECK_THAT(correlation(v, phi), test::to_printed_digits(0.86, 2));
  CHECK_THAT(correlation(i, phi), test::to_printed_digits(-0.65, 2));

  const Uncertain r = v / i * cos(phi);
  const Uncertain x = v / i * sin(phi);
  const Uncertain z = v / i;
  CHECK_THAT(r.value(), test::to_printed_decimals(127.732, 3));
  CHECK_THAT(x.value(), test::to_printed_decimals(219.847, 3));
  CHECK_THAT(z.value(), test::to_printed_decimals(254.260, 3));
  CHECK_THAT(r.u(), test::to_printed_decimals(0.071, 3));
  CHECK_THAT(x.u(), test::to_printed_digits(0.2955816773586382, 10));
  CHECK_THAT(z.u(), test::to_printed_decimals(0.236, 3));
  CHECK_THAT(correlation(r, x), test::to_printed_decimals(-0.588, 3));
  CHECK_THAT(correlation(r, z), test::to_printed_decimals(-0.485, 3));
  CHECK_THAT(correlation(x, z), test::to_printed_decimals(0.993, 3));
  // One set of readings, one estimate of variance: 4 degrees of freedom for all results.
  CHECK_THAT(z.degrees_of_freedom(), test::to_printed_digits(4.0, 12));

  // [JCGM100] Table H.5: the same with the correlation left out: 0.195, 0.201, 0.204.
  const auto v_alone = Uncertain::from(v.value(), v.u(), "v", kOwn);
  const auto i_alone = Uncertain::from(i.value(), i.u(), "i", kOwn);
  const auto phi_alone = Uncertain::from(phi.value(), phi.u(), "phi", kOwn);
  CHECK_THAT((v_alone / i_alone * cos(phi_alone)).u(), test::to_printed_decimals(0.195, 3));
  CHECK_THAT((v_alone / i_alone * sin(phi_alone)).u(), test::to_printed_decimals(0.201, 3));
  CHECK_THAT((v_alone / i_alone).u(), test::to_printed_decimals(0.204, 3));
}

TEST_CASE("least_squares and correlated give the GUM's calibration line",
          "[metrology][truth]") {
  // [JCGM100] H.3, thermometer corrections b against t - 20. Printed: y1 -0.1712 (29),
  // y2 0.00218 (67), r -0.930, s 0.0035, b(30) -0.1494 (41), 9 degrees of freedom.
  const std::vector<double> t_c = {
      21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511};
  const std::vector<double> b_c = {
      -0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160};
  LeastSquaresProblem problem;
  problem.names = {"intercept", "slope"};
  problem.start = Eigen::Vector2d(0.0, 0.0);
  problem.residuals = [&](const Eigen::VectorXd& y) {
    Eigen::VectorXd residuals(11);
    for (std::size_t k = 0; k < t_c.size(); ++k) {
      residuals[static_cast<Eigen::Index>(k)] = b_c[k] - (y[0] + y[1] * (t_c[k] - 20.0));
    }
    return residuals;
  };
  LeastSquaresOptions options;
  options.variance = VarianceSource::Residuals;
  const auto fit = least_squares(problem, options);
  REQUIRE(fit.ok());
  const std::vector<Uncertain> y = correlated(fit.value(), "line", kOwn);
  CHECK_THAT(y[0].value(), test::to_printed_digits(-0.17120379013134995, 9));
  CHECK_THAT(y[0].u(), test::to_printed_digits(0.0028775978351599594, 9));
  CHECK_THAT(y[1].value(), test::to_printed_digits(0.0021826977398872703, 9));
  CHECK_THAT(y[1].u(), test::to_printed_digits(0.0006679387732278331, 9));
  CHECK_THAT(fit.value().correlation(0, 1), test::to_printed_digits(-0.930, 3));
  CHECK_THAT(std::sqrt(fit.value().variance_factor), test::to_printed_digits(0.0035, 2));
  const Uncertain at_30 = y[0] + 10.0 * y[1];
  CHECK_THAT(at_30.value(), test::to_printed_digits(-0.1494, 4));
  CHECK_THAT(at_30.u(), test::to_printed_digits(0.0041, 2));
  CHECK_THAT(at_30.degrees_of_freedom(), test::to_printed_digits(9.0, 12));
}
