// SPDX-License-Identifier: Apache-2.0
#include "cli/command_list.h"
#include "cli/commands.h"
#include "cli/completion.h"
#include "cli/manual_page.h"
#include "series/version.h"

#include <iostream>
#include <map>
#include <memory>
#include <string>

#include <CLI/CLI.hpp>

namespace swingloss {
namespace {

using Writer = std::string (*)(const CommandList&);

const std::map<std::string, Writer>& shells() {
  static const std::map<std::string, Writer> writers = {
      {"bash", bash_completion}, {"fish", fish_completion}, {"zsh", zsh_completion}};
  return writers;
}

}  // namespace

void add_completion_command(CLI::App& app, Session&) {
  const auto shell = std::make_shared<std::string>();
  CLI::App* command =
      app.add_subcommand("completion", "Print a script for the shell's Tab key");
  command->add_option("shell", *shell, "whose Tab key")
      ->required()
      ->check(CLI::IsMember(shells()));
  command->footer(
      "Examples:\n  swingloss completion bash > "
      "~/.local/share/bash-completion/completions/swingloss\n"
      "  swingloss completion fish > ~/.config/fish/completions/swingloss.fish");
  command->callback([shell, &app] { std::cout << shells().at(*shell)(command_list(app)); });
}

void add_manual_command(CLI::App& app, Session&) {
  CLI::App* command = app.add_subcommand("manual", "Print the manual page, for man");
  command->footer("Example:\n  swingloss manual > swingloss.1 && man -l swingloss.1");
  command->callback([&app] { std::cout << manual_page(command_list(app), kVersion); });
}

}  // namespace swingloss
