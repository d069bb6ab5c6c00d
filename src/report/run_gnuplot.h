// SPDX-License-Identifier: Apache-2.0
/// \file run_gnuplot.h
/// gnuplot as a child process: a script goes in, a picture comes out.
#pragma once

#include <string>

namespace swingloss {

/// Runs `program` (found along PATH, no shell in between, no start-up files of the user) on
/// `script` and returns what it wrote to standard output: the picture's bytes.
///
/// \param script  sets its own terminal and no output file
/// \throws InputError   there is no such program; names the package that has it
/// \throws std::logic_error  gnuplot refused the script: the script is ours, so the fault is
/// too
[[nodiscard]] std::string run_gnuplot(const std::string& script,
                                      const std::string& program = "gnuplot");

}  // namespace swingloss
