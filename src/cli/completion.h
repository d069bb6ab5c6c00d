// SPDX-License-Identifier: Apache-2.0
/// \file completion.h
/// Scripts by which shells complete a half-typed command line.
#pragma once

#include "cli/command_list.h"

#include <string>

namespace swingloss {

/// Commands, options, their closed lists of values, else file names. Each script defines
/// functions and runs nothing of its own.
[[nodiscard]] std::string bash_completion(const CommandList& list);
[[nodiscard]] std::string zsh_completion(const CommandList& list);
[[nodiscard]] std::string fish_completion(const CommandList& list);

}  // namespace swingloss
