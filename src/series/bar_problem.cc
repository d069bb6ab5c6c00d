// SPDX-License-Identifier: Apache-2.0
#include "series/bar_problem.h"

namespace swingloss {

BarProblem problem_of(const InputError& error, std::string code) {
  return {std::move(code), error.what()};
}

BarProblem problem_of(const Failure& failure, const std::string& clip) {
  std::string text = clip + ": " + failure.cause;
  if (!failure.advice.empty()) text += " " + failure.advice;
  return {failure.code, text};
}

}  // namespace swingloss
