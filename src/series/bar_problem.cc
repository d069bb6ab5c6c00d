// SPDX-License-Identifier: Apache-2.0
#include "series/bar_problem.h"

namespace swingloss {
BarProblem problem_of(const InputError& error, std::string code) {
  return {std::move(code), error.what()};
}

}  // namespace swingloss
