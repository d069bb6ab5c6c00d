// SPDX-License-Identifier: Apache-2.0
/// \file command_list.h
/// The program's own definitions of its commands as plain lists: what manual page and shell
/// completion are made of, so that neither can fall behind.
#pragma once

#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace swingloss {

struct OptionEntry {
  std::vector<std::string> names;    ///< "-q", "--quiet"; one bare word for a positional
  std::string help;                  ///< one sentence
  std::vector<std::string> choices;  ///< the only values; empty: any
  std::string standard;              ///< value where none is given; empty: none
  bool takes_value = false;
  bool positional = false;
  bool required = false;
  bool number = false;  ///< its value is a number, so no file
};

struct CommandEntry {
  std::string name, help;
  std::vector<OptionEntry> options;
  std::string examples;  ///< "Example:\n  swingloss ..."
};

struct CommandList {
  std::string help;                 ///< of the program
  std::string footer;               ///< example and exit codes
  std::vector<OptionEntry> common;  ///< before the command
  std::vector<CommandEntry> commands;
};

[[nodiscard]] CommandList command_list(const CLI::App& app);

}  // namespace swingloss
