// SPDX-License-Identifier: Apache-2.0
/// \file nist_problems.h
/// Nonlinear regression problems with certified answers [NISTStRD].
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include <Eigen/Core>

namespace swingloss::test {

/// Model value at one x for given parameters.
using NistModel = std::function<double(double x, const Eigen::VectorXd& b)>;

/// One data set as certified: values and standard deviations to 11 significant digits.
struct NistProblem {
  std::string name;
  NistModel model;
  Eigen::VectorXd y, x;
  Eigen::VectorXd start_1, start_2;
  Eigen::VectorXd certified, standard_deviation;
  double residual_sum_of_squares = 0.0;
  int degrees_of_freedom = 0;
};

/// Misra1a, DanWood, Rat42, BoxBOD: figures copied into nist_problems.cc.
[[nodiscard]] std::vector<NistProblem> nist_problems_at_hand();

/// The model of a data set by name; empty for a name that is not known here.
[[nodiscard]] NistModel nist_model(const std::string& name);

/// A problem read from its NIST file in the reference data beside the checkout; nothing, and a
/// printed line, when the file is not there.
[[nodiscard]] std::optional<NistProblem> nist_problem_from_file(const std::string& name);

}  // namespace swingloss::test
