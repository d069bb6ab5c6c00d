// SPDX-License-Identifier: Apache-2.0
/// \file bar_problem.h
/// Why one bar has no value.
#pragma once

#include "core/input_error.h"

#include <string>

namespace swingloss {

/// Why a bar has no value. It never stops the other bars.
struct BarProblem {
  std::string code;  ///< kebab-case
  std::string text;  ///< file, row, found, wanted, next step: one sentence or two
};

/// Code of the problem of a bar whose record is not stored where only stored ones are wanted.
inline constexpr const char* kNotMeasuredYet = "not-measured-yet";

/// A problem from input that a person can put right; `code` is "unusable-input" or given.
[[nodiscard]] BarProblem problem_of(const InputError& error,
                                    std::string code = "unusable-input");

}  // namespace swingloss
