// SPDX-License-Identifier: Apache-2.0
/// \file run_program.h
/// Another program as a child process: bytes go in, bytes come out.
#pragma once

#include <string>
#include <vector>

namespace swingloss {

struct ProgramEnd {
  std::string not_started;  ///< why it could not be started; empty: it was
  bool good = false;        ///< it ended by itself, with 0
  std::string output, complaints;
};

/// Runs a program to its end; no shell in between.
/// \param words  its name, found along PATH, and its arguments
/// \throws std::runtime_error  the system has no room for a child
[[nodiscard]] ProgramEnd run_program(const std::vector<std::string>& words,
                                     const std::string& input);

}  // namespace swingloss
