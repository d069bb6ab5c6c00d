// SPDX-License-Identifier: Apache-2.0
#include "cli/commands.h"
#include "cli/progress.h"
#include "core/parallel.h"
#include "core/shell_word.h"
#include "render/demo_series.h"
#include "view/sheet.h"

#include <iostream>
#include <memory>

#include <CLI/CLI.hpp>

namespace swingloss {
namespace {

ExitCode demo(const std::string& folder, const Session& session) {
  DemoOptions options;
  options.jobs = static_cast<int>(workers_for(session.jobs, demo_bars().size()));
  options.cards = {sheet_picture(card_page(scale_cards()[0]), options.cards.px_per_m),
                   sheet_picture(card_page(scale_cards()[1]), options.cards.px_per_m),
                   options.cards.px_per_m};
  if (const auto tell = progress_lines(session.quiet, "rendered")) {
    options.progress = [tell](std::size_t done, std::size_t count, const std::string& clip) {
      tell({done, count, clip, true});
    };
  }
  const auto files = write_demo_series(folder, options);
  if (!session.quiet) {
    std::cout << files.size() << " files of a series with invented materials are in " << folder
              << ".\nThen: swingloss run " << shell_word(folder) << "\n";
  }
  return ExitCode::Done;
}

}  // namespace

void add_demo_command(CLI::App& app, Session& session) {
  const auto folder = std::make_shared<std::string>();
  CLI::App* command = app.add_subcommand("demo", "Write a rendered series with known truth");
  command->add_option("folder", *folder, "where to")->required();
  command->footer("Example:\n  swingloss demo my-demo");
  command->callback([folder, &session] { session.end = demo(*folder, session); });
}

}  // namespace swingloss
