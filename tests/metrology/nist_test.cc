// SPDX-License-Identifier: Apache-2.0
#include "metrology/least_squares.h"
#include "nist_problems.h"
#include "support/test.h"

#include <string>
#include <utility>
#include <vector>

using namespace swingloss;

namespace {

LeastSquaresProblem problem_from(const test::NistProblem& nist, const Eigen::VectorXd& start) {
  LeastSquaresProblem problem;
  for (Eigen::Index i = 0; i < start.size(); ++i) {
    problem.names.push_back("b" + std::to_string(i + 1));
  }
  problem.start = start;
  problem.residuals = [&nist](const Eigen::VectorXd& b) {
    Eigen::VectorXd residuals(nist.y.size());
    for (Eigen::Index i = 0; i < nist.y.size(); ++i) {
      residuals[i] = nist.y[i] - nist.model(nist.x[i], b);
    }
    return residuals;
  };
  return problem;
}

/// What to expect of a fit: certified digits of parameters and of standard deviations.
struct Digits {
  int of_parameters = 11;
  int of_deviations = 10;
};

void check_certified(const test::NistProblem& nist,
                     const Eigen::VectorXd& start,
                     const Digits& digits) {
  CAPTURE(nist.name, start.transpose());
  LeastSquaresOptions options;
  options.variance = VarianceSource::Residuals;
  const auto result = least_squares(problem_from(nist, start), options);
  REQUIRE(result.ok());
  const LeastSquaresFit& fit = result.value();
  CAPTURE(fit.iterations, fit.stop_reason, fit.offset_in_u);
  for (Eigen::Index i = 0; i < start.size(); ++i) {
    CHECK_THAT(fit.parameters[i],
               test::to_printed_digits(nist.certified[i], digits.of_parameters));
    CHECK_THAT(fit.u(i),
               test::to_printed_digits(nist.standard_deviation[i], digits.of_deviations));
  }
  CHECK_THAT(fit.chi2, test::to_printed_digits(nist.residual_sum_of_squares, 10));
  CHECK(fit.iterations < 400);
  CHECK(fit.degrees_of_freedom == nist.degrees_of_freedom);
  CHECK(fit.uncertainty_dof == nist.degrees_of_freedom);
}

}  // namespace

// Source of all figures: [NISTStRD], certified to 11 significant digits. Slopes by differences
// carry 1e-11 of their own, so the standard deviations are asked for one digit less.
TEST_CASE("least_squares reaches the certified values at hand from both starts",
          "[metrology][truth]") {
  for (const test::NistProblem& nist : test::nist_problems_at_hand()) {
    check_certified(nist, nist.start_1, {11, 10});
    check_certified(nist, nist.start_2, {11, 10});
  }
}

// The same, from the NIST files. The 1e-11 of the slopes is magnified where parameters stand in
// for one another: by the ratio of the singular values of the scaled slopes, 50 to 3000 in most
// of these, 6e4 in Bennett5.
TEST_CASE("least_squares reaches the certified values of the harder files",
          "[metrology][truth]") {
  const std::vector<std::pair<std::string, Digits>> expected = {
      {"Misra1b", {10, 10}},
      {"Chwirut2", {10, 10}},
      {"Rat43", {10, 10}},
      {"Thurber", {10, 9}},
      {"MGH09", {10, 10}},
      {"MGH10", {10, 9}},
      {"Eckerle4", {10, 10}},
      {"Bennett5", {9, 8}},
  };
  for (const auto& [name, digits] : expected) {
    const auto nist = test::nist_problem_from_file(name);
    if (!nist) continue;
    check_certified(*nist, nist->start_1, digits);
    check_certified(*nist, nist->start_2, digits);
  }
}

TEST_CASE("the figures at hand are those of the NIST files", "[metrology][truth]") {
  for (const test::NistProblem& copied : test::nist_problems_at_hand()) {
    CAPTURE(copied.name);
    const auto file = test::nist_problem_from_file(copied.name);
    if (!file) continue;
    CHECK(copied.y == file->y);
    CHECK(copied.x == file->x);
    CHECK(copied.start_1 == file->start_1);
    CHECK(copied.start_2 == file->start_2);
    CHECK(copied.certified == file->certified);
    CHECK(copied.standard_deviation == file->standard_deviation);
    CHECK(copied.residual_sum_of_squares == file->residual_sum_of_squares);
    CHECK(copied.degrees_of_freedom == file->degrees_of_freedom);
  }
}

TEST_CASE("least_squares takes an analytic Jacobian to every certified digit",
          "[metrology][truth]") {
  const test::NistProblem misra1a = test::nist_problems_at_hand().front();
  LeastSquaresProblem problem = problem_from(misra1a, misra1a.start_1);
  problem.jacobian = [&misra1a](const Eigen::VectorXd& b) {
    Eigen::MatrixXd jacobian(misra1a.x.size(), 2);
    const Eigen::ArrayXd decay = (-b[1] * misra1a.x.array()).exp();
    jacobian.col(0) = decay - 1.0;
    jacobian.col(1) = -b[0] * misra1a.x.array() * decay;
    return jacobian;
  };
  LeastSquaresOptions options;
  options.variance = VarianceSource::Residuals;
  const auto result = least_squares(problem, options);
  REQUIRE(result.ok());
  for (Eigen::Index i = 0; i < 2; ++i) {
    CHECK_THAT(result.value().parameters[i], test::to_printed_digits(misra1a.certified[i], 11));
    CHECK_THAT(result.value().u(i), test::to_printed_digits(misra1a.standard_deviation[i], 11));
  }
}
