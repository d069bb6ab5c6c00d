// SPDX-License-Identifier: Apache-2.0
#include "metrology/monte_carlo.h"

#include "metrology/correlated.h"
#include "metrology/distributions.h"
#include "support/test.h"

#include <cmath>
#include <numeric>

using namespace swingloss;

namespace {

using Eigen::VectorXd;

double sum(const VectorXd& x) { return x.sum(); }

/// Deviation of an end of a 95 % interval from n draws whose density there is `density`: the
/// rank of the end scatters by sqrt(n p (1 - p)), p = 0.025.
double end_deviation(int trials, double density) {
  return std::sqrt(0.025 * 0.975 / trials) / density;
}

/// Deviation of a standard deviation found from n draws of excess kurtosis `kurtosis`.
double u_deviation(double u, int trials, double kurtosis = 0.0) {
  return u * std::sqrt((2.0 + kurtosis) / (4.0 * trials));
}

}  // namespace

// [JCGM101] 9.2: four inputs added. Interval ends in closed form, printed there as 3.92, 3.88,
// 17.0 (printed values from memory).
TEST_CASE("monte_carlo adds four normal inputs", "[metrology][truth]") {
  const std::vector<Distribution> inputs(4, Distribution::normal(0.0, 1.0));
  const auto result = monte_carlo(sum, inputs);
  REQUIRE(result.ok());
  const MonteCarloResult& y = result.value();
  // Density of N(0, 2) at its 2.5 % point.
  const double deviation = end_deviation(y.trials, normal_pdf(1.959963985) / 2.0);
  CHECK_THAT(y.mean, test::to_uncertainty(0.0, 2.0 / std::sqrt(y.trials)));
  CHECK_THAT(y.u, test::to_uncertainty(2.0, u_deviation(2.0, y.trials)));
  CHECK_THAT(y.symmetric.high, test::to_uncertainty(3.919928, deviation));
  CHECK_THAT(y.symmetric.low, test::to_uncertainty(-3.919928, deviation));
  CHECK(y.shortest.high - y.shortest.low <= y.symmetric.high - y.symmetric.low);
}

TEST_CASE("monte_carlo adds four rectangular inputs", "[metrology][truth]") {
  const double a = std::sqrt(3.0);
  const auto result =
      monte_carlo(sum, std::vector<Distribution>(4, Distribution::rectangular(-a, a)));
  REQUIRE(result.ok());
  const MonteCarloResult& y = result.value();
  // End 2 sqrt3 (2 - (3/5)^(1/4)); the density there is (8a - 2a(..))^3 / (6 (2a)^4) of the
  // cubic tail: d = 4a - end, f = d^3 / (6 (2a)^4). The exact excess kurtosis is -0.3.
  const double end = 2.0 * a * (2.0 - std::pow(0.6, 0.25));
  const double density = std::pow(4.0 * a - end, 3) / (6.0 * std::pow(2.0 * a, 4));
  CHECK_THAT(y.u, test::to_uncertainty(2.0, u_deviation(2.0, y.trials)));
  CHECK_THAT(y.symmetric.high, test::to_uncertainty(end, end_deviation(y.trials, density)));
  CHECK_THAT(y.symmetric.low, test::to_uncertainty(-end, end_deviation(y.trials, density)));
  CHECK_THAT(end, test::to_printed_digits(3.88, 3));
}

TEST_CASE("monte_carlo shows where one rectangular input rules", "[metrology][truth]") {
  const double a = std::sqrt(3.0);
  std::vector<Distribution> inputs(3, Distribution::rectangular(-a, a));
  inputs.push_back(Distribution::rectangular(-10.0 * a, 10.0 * a));
  const auto result = monte_carlo(sum, inputs);
  REQUIRE(result.ok());
  const MonteCarloResult& y = result.value();
  // Between the shoulders the density is that of the wide input: 1 / (20 a); at the end, in the
  // rounded shoulder, at least half of it.
  const double deviation = end_deviation(y.trials, 0.5 / (20.0 * a));
  CHECK_THAT(y.u, test::to_uncertainty(10.148892, u_deviation(10.148892, y.trials)));
  CHECK_THAT(y.symmetric.high, test::to_uncertainty(17.015814, deviation));
  CHECK_THAT(y.symmetric.low, test::to_uncertainty(-17.015814, deviation));
  // First order would say 1.96 * 10.15 = 19.9: 0.28 u too far.
  const auto first_order = Uncertain::from(0.0, 10.148892, "sum", SourceKind::Own);
  CHECK_THAT(
      first_order_gap(first_order, y, 0.95),
      test::to_uncertainty((19.891462 - 17.015814) / 10.148892, 2.0 * deviation / 10.15));
}

TEST_CASE("monte_carlo finds what first order misses in a mass calibration",
          "[metrology][truth]") {
  // [JCGM101] 9.3, inputs from memory: printed mean 1.2340 mg, u 0.0754 against 0.0539 by first
  // order; u exactly is 0.07548 (moments of the product in closed form).
  const std::vector<Distribution> inputs = {Distribution::normal(100000.0, 0.050),
                                            Distribution::normal(1.234, 0.020),
                                            Distribution::rectangular(1.10, 1.30),
                                            Distribution::rectangular(7000.0, 9000.0),
                                            Distribution::rectangular(7950.0, 8050.0)};
  const auto excess_mg = [](const VectorXd& x) {
    return (x[0] + x[1]) * (1.0 + (x[2] - 1.2) * (1.0 / x[3] - 1.0 / x[4])) - 100000.0;
  };
  const auto result = monte_carlo(excess_mg, inputs);
  REQUIRE(result.ok());
  CHECK_THAT(result.value().mean,
             test::to_uncertainty(1.2340, 0.07548 / std::sqrt(result.value().trials)));
  CHECK_THAT(result.value().u,
             test::to_uncertainty(0.07548, u_deviation(0.07548, result.value().trials)));
}

TEST_CASE("monte_carlo gives the shortest interval of a skew output", "[metrology][truth]") {
  // [JCGM101] 9.4: x1^2 + x2^2, u 0.005 each. At x1 = 0 the output is exponential of mean
  // 50e-6: shortest 95 % interval 0 to 50e-6 ln 20, printed 150e-6; at 0.05: mean 2550e-6, u
  // 502e-6, exact shortest interval 1593.6e-6 to 3548.6e-6 (noncentral chi squared).
  const auto loss = [](const VectorXd& x) { return x.squaredNorm(); };
  const auto at_0 =
      monte_carlo(loss, {Distribution::normal(0.0, 0.005), Distribution::normal(0.0, 0.005)});
  REQUIRE(at_0.ok());
  const MonteCarloResult& y = at_0.value();
  // The upper end is the 95 % quantile: density 0.05 / mean there, p = 0.05.
  const double end = 50e-6 * std::log(20.0);
  const double deviation = std::sqrt(0.05 * 0.95 / y.trials) / (0.05 / 50e-6);
  CHECK_THAT(y.mean, test::to_uncertainty(50e-6, 50e-6 / std::sqrt(y.trials)));
  CHECK_THAT(y.u, test::to_uncertainty(50e-6, u_deviation(50e-6, y.trials, 6.0)));
  CHECK_THAT(y.shortest.high, test::to_uncertainty(end, deviation));
  CHECK(y.shortest.low < 1e-9);
  CHECK(y.symmetric.low > 1e-6);

  const auto at_50 =
      monte_carlo(loss, {Distribution::normal(0.050, 0.005), Distribution::normal(0.0, 0.005)});
  REQUIRE(at_50.ok());
  CHECK_THAT(at_50.value().mean, test::to_uncertainty(2550e-6, 502e-6 / std::sqrt(y.trials)));
  CHECK_THAT(at_50.value().u, test::to_uncertainty(502.49e-6, u_deviation(502e-6, y.trials)));
  // The place of a shortest interval is flat in its own length and scatters with the cube root
  // of the number of draws, not the square root: u n^(-1/3) is a deviation of it.
  const double place = 502e-6 * std::pow(y.trials, -1.0 / 3.0);
  CHECK_THAT(at_50.value().shortest.low, test::to_uncertainty(1593.6e-6, place));
  CHECK_THAT(at_50.value().shortest.high, test::to_uncertainty(3548.6e-6, place));
}

TEST_CASE("monte_carlo from uncertain values finds the second order of the end gauge",
          "[metrology][truth]") {
  // [JCGM100] H.1.7: the terms of second order raise u from 32 to 34 nm (33.776 recomputed).
  const auto input = [](double value, double u, const char* name) {
    return Uncertain::from(value, u, name, SourceKind::Own);
  };
  const std::vector<Uncertain> inputs = {
      input(50000623.0, 25.0, "standard"),
      input(215.0, 9.6819, "difference"),
      input(0.0, 1e-6 / std::sqrt(3.0), "d alpha"),
      input(-0.1, std::hypot(0.2, std::sqrt(0.125)), "theta"),
      input(11.5e-6, 2e-6 / std::sqrt(3.0), "alpha"),
      input(0.0, 0.05 / std::sqrt(3.0), "d theta")};
  const auto length_nm = [](const VectorXd& x) {
    return x[0] + x[1] - x[0] * (x[2] * x[3] + x[4] * x[5]);
  };
  const auto result = monte_carlo(length_nm, inputs);
  REQUIRE(result.ok());
  // The products are heavier in the tails than a normal: an excess kurtosis below 1.
  CHECK_THAT(result.value().u,
             test::to_uncertainty(33.7757, u_deviation(33.7757, result.value().trials, 1.0)));
}

TEST_CASE("monte_carlo of the impact energy agrees with its exact moments",
          "[metrology][truth]") {
  // W = 4 J (cos 120 deg - cos 150 deg), u 0.5 and 0.2 deg: first order 0.03102565, exact
  // 0.03102472 J (moments of a cosine of a normal angle in closed form).
  const double deg = std::acos(-1.0) / 180.0;
  const auto alpha = Uncertain::from(150.0 * deg, 0.2 * deg, "release", SourceKind::Own);
  const auto beta = Uncertain::from(120.0 * deg, 0.5 * deg, "rise", SourceKind::Own);
  const Uncertain w_J = 4.0 * (cos(beta) - cos(alpha));
  CHECK_THAT(w_J.value(), test::to_printed_digits(1.46410162, 9));
  CHECK_THAT(w_J.u(), test::to_printed_digits(0.03102565, 7));
  const auto energy = [](const VectorXd& x) { return 4.0 * (std::cos(x[1]) - std::cos(x[0])); };
  const auto result = monte_carlo(energy, {alpha, beta});
  REQUIRE(result.ok());
  CHECK_THAT(result.value().u,
             test::to_uncertainty(0.03102472, u_deviation(0.031, result.value().trials)));
  CHECK(first_order_gap(w_J, result.value(), 0.95) < 0.1);
}

TEST_CASE("monte_carlo draws a shared source once for all inputs", "[metrology]") {
  // x - x is 0 in every draw, up to one rounding of x.
  const auto x = Uncertain::from(5.0, 1.0, "one source", SourceKind::Shared);
  const auto difference = [](const VectorXd& v) { return v[0] - v[1]; };
  const auto result = monte_carlo(difference, {x, x});
  REQUIRE(result.ok());
  CHECK(result.value().u == 0.0);
  CHECK(result.value().symmetric.low == 0.0);
  CHECK(result.value().symmetric.high == 0.0);
}

TEST_CASE("monte_carlo draws the factors of one estimate with one chi squared", "[metrology]") {
  // Any sum of jointly estimated values is Student's t with the estimate's own 4 degrees of
  // freedom: [JCGM100] Table G.2, 68.27 % within 1.14 u. Twenty factors drawn apart would add
  // up to nearly a normal of the same variance, 2 u^2: 68.27 % within 1.41 u.
  const auto v = correlated(
      VectorXd::Zero(20), Eigen::MatrixXd::Identity(20, 20), "fit", SourceKind::Own, 4.0);
  MonteCarloOptions options;
  options.trials = 40000;
  options.coverage = 0.6827;
  const auto result = monte_carlo(sum, v, options);
  REQUIRE(result.ok());
  const double u = std::sqrt(20.0);
  // Density of t with 4 degrees of freedom in closed form; rank of the end at p = 0.15865.
  const double density = 0.375 * std::pow(1.0 + 1.1417 * 1.1417 / 4.0, -2.5);
  const double deviation = std::sqrt(0.15865 * 0.84135 / options.trials) / density;
  CHECK_THAT(result.value().symmetric.high / u, test::to_uncertainty(1.1417, deviation));
  CHECK_THAT(result.value().symmetric.low / u, test::to_uncertainty(-1.1417, deviation));
}

TEST_CASE("monte_carlo refuses a model that is not defined where the inputs reach",
          "[metrology]") {
  const auto root = [](const VectorXd& x) { return std::sqrt(x[0]); };
  const auto result = monte_carlo(root, {Distribution::normal(1.0, 0.5)});
  REQUIRE_FALSE(result.ok());
  CHECK(result.failure().code == "model-undefined");
}

TEST_CASE("monte_carlo repeats itself for a seed and not for another", "[metrology]") {
  MonteCarloOptions options;
  options.trials = 1000;
  const std::vector<Distribution> inputs = {Distribution::normal(0.0, 1.0)};
  const double first = monte_carlo(sum, inputs, options).value().mean;
  CHECK(monte_carlo(sum, inputs, options).value().mean == first);
  options.seed = 2;
  CHECK(monte_carlo(sum, inputs, options).value().mean != first);
}

TEST_CASE("summarize_draws takes intervals by rank", "[metrology][truth]") {
  // [JCGM101] 7.7: of 100 draws 0..99 the symmetric 90 % interval runs from rank 5 to rank 95;
  // moving the last ten far away makes the shortest start at the first.
  std::vector<double> draws(100);
  std::iota(draws.begin(), draws.end(), 0.0);
  const MonteCarloResult even = summarize_draws(draws, 0.90);
  CHECK(even.symmetric.low == 5.0);
  CHECK(even.symmetric.high == 95.0);
  CHECK(even.mean == 49.5);
  for (int i = 91; i < 100; ++i) draws[static_cast<std::size_t>(i)] += 1000.0;
  const MonteCarloResult skew = summarize_draws(draws, 0.90);
  CHECK(skew.shortest.low == 0.0);
  CHECK(skew.shortest.high == 90.0);
  CHECK_THROWS_AS(summarize_draws({1.0}, 0.90), std::logic_error);
  CHECK_THROWS_AS(summarize_draws(draws, 1.0), std::logic_error);
}
