// SPDX-License-Identifier: Apache-2.0
#include "cli/commands.h"
#include "core/shell_word.h"
#include "series/new_series.h"

#include <iostream>
#include <memory>

#include <CLI/CLI.hpp>

namespace swingloss {

void add_new_command(CLI::App& app, Session& session) {
  const auto folder = std::make_shared<std::string>();
  CLI::App* command = app.add_subcommand("new", "Write a series folder to fill in");
  command
      ->add_option("folder",
                   *folder,
                   "a folder that is not there yet, is empty, or holds your clips in clips/")
      ->required();
  command->footer("Example:\n  swingloss new my-series");
  command->callback([folder, &session] {
    const auto files = write_new_series(*folder);
    if (session.quiet) return;
    std::cout << "Written into " << *folder << ":\n";
    for (const std::string& file : files) std::cout << "  " << file << "\n";
    std::cout << "FIELDS.md explains every field. A swing without a bar gets no row in "
                 "specimens.csv: name its clip under free_swings in series.json.\n"
                 "Then: swingloss run "
              << shell_word(*folder) << "\n";
  });
}

}  // namespace swingloss
