// SPDX-License-Identifier: Apache-2.0
#include "metrology/least_squares.h"

#include "metrology/random_draws.h"
#include "support/test.h"

#include <cmath>
#include <limits>
#include <string>

using namespace swingloss;

namespace {

using Eigen::VectorXd;

/// amplitude exp(-rate t) at t = 0 .. 2 s, with normal noise of standard deviation `noise`.
VectorXd decay_data(double amplitude, double rate_per_s, double noise, std::uint64_t seed) {
  RandomDraws draws(seed);
  VectorXd y(21);
  for (Eigen::Index i = 0; i < y.size(); ++i) {
    y[i] = amplitude * std::exp(-rate_per_s * 0.1 * static_cast<double>(i)) +
           noise * draws.normal();
  }
  return y;
}

LeastSquaresProblem decay_problem(const VectorXd& y, double stated_u) {
  LeastSquaresProblem problem;
  problem.names = {"amplitude", "rate"};
  problem.start = Eigen::Vector2d(1.0, 0.5);
  problem.residuals = [y, stated_u](const VectorXd& p) {
    VectorXd residuals(y.size());
    for (Eigen::Index i = 0; i < y.size(); ++i) {
      const double model = p[0] * std::exp(-p[1] * 0.1 * static_cast<double>(i));
      residuals[i] = (y[i] - model) / stated_u;
    }
    return residuals;
  };
  return problem;
}

LeastSquaresOptions with_variance(VarianceSource source) {
  LeastSquaresOptions options;
  options.variance = source;
  return options;
}

std::string failure_code(const LeastSquaresProblem& problem) {
  const auto fit = least_squares(problem);
  return fit.ok() ? "none" : fit.failure().code;
}

}  // namespace

TEST_CASE("least_squares states uncertainties that are neither too small nor too large",
          "[metrology][synthetic]") {
  constexpr int kSeeds = 400;
  double weights = 0.0;
  double residuals = 0.0;
  double chi2 = 0.0;
  for (int seed = 1; seed <= kSeeds; ++seed) {
    // Noise of 0.02 where 0.02 is stated, and where 0.005 is stated.
    const VectorXd y = decay_data(3.0, 0.8, 0.02, static_cast<std::uint64_t>(seed));
    const auto told =
        least_squares(decay_problem(y, 0.02), with_variance(VarianceSource::Weights));
    const auto untold =
        least_squares(decay_problem(y, 0.005), with_variance(VarianceSource::Residuals));
    REQUIRE(told.ok());
    REQUIRE(untold.ok());
    weights += std::pow((told.value().parameters[1] - 0.8) / told.value().u(1), 2);
    residuals += std::pow((untold.value().parameters[1] - 0.8) / untold.value().u(1), 2);
    chi2 += told.value().chi2;
  }
  // Mean squares of kSeeds scores: 1 with deviation sqrt(2 / kSeeds) for normal scores. With 19
  // degrees of freedom t scores have variance 19/17, and their squares a little more scatter
  // (kurtosis 3 + 6/15): 1.1 times. The mean of chi squared is 19, its deviation sqrt(38 / n).
  const double deviation = std::sqrt(2.0 / kSeeds);
  CHECK_THAT(weights / kSeeds, test::to_truncation(1.0, 4.0 * deviation));
  CHECK_THAT(residuals / kSeeds,
             test::to_truncation(19.0 / 17.0, 4.0 * 1.1 * 19.0 / 17.0 * deviation));
  CHECK_THAT(chi2 / kSeeds, test::to_truncation(19.0, 4.0 * std::sqrt(38.0 / kSeeds)));
}

TEST_CASE("least_squares never states less than the weights when asked for the larger",
          "[metrology]") {
  const VectorXd y = decay_data(3.0, 0.8, 0.02, 5);
  const auto weights =
      least_squares(decay_problem(y, 0.1), with_variance(VarianceSource::Weights));
  const auto larger = least_squares(decay_problem(y, 0.1));
  CHECK(larger.value().covariance == weights.value().covariance);
  CHECK(std::isinf(larger.value().uncertainty_dof));

  const auto too_sure = least_squares(decay_problem(y, 0.001));
  const auto residuals =
      least_squares(decay_problem(y, 0.001), with_variance(VarianceSource::Residuals));
  CHECK(too_sure.value().covariance == residuals.value().covariance);
  CHECK(too_sure.value().uncertainty_dof == 19.0);
}

TEST_CASE("a prior counts as one more datum", "[metrology]") {
  // Linear mean of three readings of u 1 with a prior 10 +/- 0.5: weights 3 and 4 in closed
  // form. A handful of roundings, and the last step of the fit: 1e-13 of its parameters.
  LeastSquaresProblem problem;
  problem.names = {"mean"};
  problem.start = VectorXd::Constant(1, 1.0);
  problem.residuals = [](const VectorXd& p) {
    return VectorXd(Eigen::Vector3d(7.0, 8.0, 9.0).array() - p[0]);
  };
  problem.priors = {{0, 10.0, 0.5}};
  const auto fit = least_squares(problem, with_variance(VarianceSource::Weights));
  REQUIRE(fit.ok());
  CHECK_THAT(fit.value().parameters[0], test::to_truncation((24.0 + 40.0) / 7.0, 1e-11));
  CHECK_THAT(fit.value().u(0), test::to_truncation(1.0 / std::sqrt(7.0), 1e-11));
  CHECK(fit.value().degrees_of_freedom == 3);
  CHECK(fit.value().residuals.size() == 3);
  CHECK(fit.value().jacobian.rows() == 3);
}

TEST_CASE("least_squares refuses parameters that stand in for one another", "[metrology]") {
  LeastSquaresProblem problem = decay_problem(decay_data(3.0, 0.8, 0.02, 1), 0.02);
  const auto two_alike = problem.residuals;
  problem.names = {"first gain", "second gain", "rate"};
  problem.start = Eigen::Vector3d(1.0, 2.0, 0.5);
  problem.residuals = [two_alike](const VectorXd& p) {
    return two_alike(Eigen::Vector2d(p[0] * p[1], p[2]));
  };
  const auto fit = least_squares(problem);
  REQUIRE_FALSE(fit.ok());
  CHECK(fit.failure().code == "parameter-unidentifiable");
  CHECK(fit.failure().cause.find("first gain, second gain") != std::string::npos);
  CHECK(fit.failure().cause.find("rate") == std::string::npos);

  // What the data cannot tell, a prior may.
  problem.priors = {{0, 1.5, 0.01}};
  CHECK(failure_code(problem) == "none");
}

TEST_CASE("least_squares refuses a parameter without effect", "[metrology]") {
  LeastSquaresProblem problem = decay_problem(decay_data(3.0, 0.8, 0.02, 1), 0.02);
  const auto without = problem.residuals;
  problem.names.emplace_back("idle");
  problem.start = Eigen::Vector3d(1.0, 0.5, 7.0);
  problem.residuals = [without](const VectorXd& p) { return without(p.head(2)); };
  const auto fit = least_squares(problem);
  REQUIRE_FALSE(fit.ok());
  CHECK(fit.failure().code == "parameter-unidentifiable");
  CHECK(fit.failure().cause == "the data do not determine: idle");
}

TEST_CASE("least_squares refuses to stop on the way", "[metrology]") {
  // Residuals that fall for ever have no minimum; two steps are too few for the decay.
  LeastSquaresProblem endless;
  endless.names = {"x"};
  endless.start = VectorXd::Constant(1, 1.0);
  endless.residuals = [](const VectorXd& p) {
    return VectorXd(Eigen::Vector2d(10.0 + 1.0 / (1.0 + p[0] * p[0]), 1.0));
  };
  CHECK_FALSE(least_squares(endless).ok());

  LeastSquaresOptions hasty;
  hasty.max_iterations = 1;
  hasty.max_offset_in_u = 1e-12;
  LeastSquaresProblem far = decay_problem(decay_data(3.0, 0.8, 0.02, 1), 0.02);
  far.start = Eigen::Vector2d(100.0, 8.0);
  const auto stopped = least_squares(far, hasty);
  REQUIRE_FALSE(stopped.ok());
  CHECK(stopped.failure().code == "did-not-converge");
}

TEST_CASE("least_squares refuses too few data", "[metrology]") {
  LeastSquaresProblem problem;
  problem.names = {"a", "b"};
  problem.start = Eigen::Vector2d(1.0, 1.0);
  problem.residuals = [](const VectorXd& p) {
    return VectorXd(VectorXd::Constant(1, p[0] - p[1]));
  };
  CHECK(failure_code(problem) == "too-few-data");

  problem.residuals = [](const VectorXd& p) { return p; };
  CHECK(failure_code(problem) == "none");
  const auto no_scatter = least_squares(problem, with_variance(VarianceSource::Residuals));
  REQUIRE_FALSE(no_scatter.ok());
  CHECK(no_scatter.failure().code == "too-few-data");
}

TEST_CASE("least_squares keeps away from where the model is undefined", "[metrology]") {
  // log(p) = 2 from a start beside 0: the first step would lead to negative p.
  LeastSquaresProblem problem;
  problem.names = {"p"};
  problem.start = VectorXd::Constant(1, 50.0);
  problem.residuals = [](const VectorXd& p) {
    return VectorXd(Eigen::Vector2d(std::log(p[0]) - 2.0, std::log(p[0]) - 2.2));
  };
  const auto fit = least_squares(problem);
  REQUIRE(fit.ok());
  // The last step of the fit: 1e-13 of the parameter, and the rounding of exp and log.
  CHECK_THAT(fit.value().parameters[0], test::to_truncation(std::exp(2.1), 1e-11));

  problem.start = VectorXd::Constant(1, -1.0);
  CHECK(failure_code(problem) == "model-undefined");
}

TEST_CASE("least_squares accepts data that fit perfectly", "[metrology]") {
  const auto fit = least_squares(decay_problem(decay_data(3.0, 0.8, 0.0, 1), 0.02));
  REQUIRE(fit.ok());
  // No noise: what remains is the rounding of the data, 1e-16, times a few.
  CHECK_THAT(fit.value().parameters[0], test::to_truncation(3.0, 1e-13));
  CHECK_THAT(fit.value().parameters[1], test::to_truncation(0.8, 1e-13));
  CHECK(least_squares(decay_problem(decay_data(3.0, 0.8, 0.0, 1), 0.02),
                      with_variance(VarianceSource::Residuals))
            .ok());
}

TEST_CASE("least_squares gives the same bits twice", "[metrology]") {
  const LeastSquaresProblem problem = decay_problem(decay_data(3.0, 0.8, 0.02, 9), 0.02);
  CHECK(least_squares(problem).value().parameters == least_squares(problem).value().parameters);
}

TEST_CASE("least_squares calls a badly posed problem our own bug", "[metrology]") {
  const LeastSquaresProblem fine = decay_problem(decay_data(3.0, 0.8, 0.02, 1), 0.02);
  LeastSquaresProblem bad = fine;
  bad.names.pop_back();
  CHECK_THROWS_AS(least_squares(bad), std::logic_error);
  bad = fine;
  bad.priors = {{2, 0.0, 1.0}};
  CHECK_THROWS_AS(least_squares(bad), std::logic_error);
  bad.priors = {{0, 0.0, 0.0}};
  CHECK_THROWS_AS(least_squares(bad), std::logic_error);
  bad = fine;
  bad.scale = Eigen::Vector2d(1.0, 0.0);
  CHECK_THROWS_AS(least_squares(bad), std::logic_error);
}
