// SPDX-License-Identifier: Apache-2.0
/// \file program.h
/// The program between the shell and the commands.
#pragma once

#include "cli/commands.h"

#include <functional>

namespace swingloss {

/// Parses the arguments, runs the command they name, prints any error as one line on stderr,
/// and returns the exit code. Never throws.
int run_swingloss(int argc, char** argv) noexcept;

/// Runs `work` and turns whatever it throws into one line on stderr and an exit code: 2 for
/// unusable input, 3 for everything else.
int exit_code_of(const std::function<ExitCode()>& work) noexcept;

}  // namespace swingloss
