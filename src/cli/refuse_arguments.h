// SPDX-License-Identifier: Apache-2.0
/// \file refuse_arguments.h
/// What is wrong with a command line, in the five parts that every message has.
#pragma once

#include "core/input_error.h"

#include <string>
#include <vector>

namespace CLI {
class App;
class ParseError;
}  // namespace CLI

namespace swingloss {

/// The parser's complaint as one of ours. A word that is no command, or an option that the
/// command does not have, is named with the nearest that there is; a number with a decimal
/// comma is given back with a point. \param words  the command line as typed, without the
/// program's name
[[nodiscard]] InputError fault_of_arguments(const CLI::App& app,
                                            const CLI::ParseError& error,
                                            const std::vector<std::string>& words);

}  // namespace swingloss
