// SPDX-License-Identifier: Apache-2.0
#include "cli/program.h"

#include "cli/refuse_arguments.h"
#include "core/input_error.h"
#include "series/version.h"

#include <algorithm>
#include <exception>
#include <iostream>
#include <string>

#include <CLI/CLI.hpp>

namespace swingloss {
namespace {

void print_error(std::string text) {
  std::replace(text.begin(), text.end(), '\n', ' ');
  std::cerr << "swingloss: " << text << std::endl;
}

/// Options of every command: understood before its name and after it, and listed in its help.
void add_common_options(CLI::App& app, Session& session) {
  app.add_flag("-q,--quiet",
               session.quiet,
               "no progress and no account: only errors, and the files that were asked for");
  app.add_option("-j,--jobs", session.jobs, "threads; 0 takes the machine's")
      ->check(CLI::Range(0, 1024))
      ->capture_default_str();
}

void describe(CLI::App& app, Session& session) {
  app.set_version_flag("--version", std::string("swingloss ") + kVersion);
  add_common_options(app, session);
  app.require_subcommand(1);
  app.footer(
      "Example:\n"
      "  swingloss demo my-demo && swingloss run my-demo\n\n"
      "Exit codes: 0 done; 1 done, but not every bar could be measured, and each is named "
      "with\n"
      "its cause; 2 wrong use, or input that cannot be read: nothing was measured; 3 internal\n"
      "fault.");
  add_run_command(app, session);
  add_collect_command(app, session);
  add_swing_command(app, session);
  add_rig_command(app, session);
  add_rank_command(app, session);
  add_plan_command(app, session);
  add_new_command(app, session);
  add_demo_command(app, session);
  add_surface_command(app, session);
  add_sheet_command(app, session);
  add_completion_command(app, session);
  add_manual_command(app, session);
  add_desk_command(app, session);
  for (CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; })) {
    add_common_options(*command, session);
  }
}

ExitCode parse_and_run(CLI::App& app, Session& session, int argc, char** argv) {
  try {
    app.parse(argc, argv);
  } catch (const CLI::Success& help) {
    app.exit(help);
    return ExitCode::Done;
  } catch (const CLI::ParseError& error) {
    throw fault_of_arguments(app, error, {argv + std::min(argc, 1), argv + argc});
  }
  return session.end;
}

ExitCode end_of(int argc, char** argv) {
  CLI::App app("From footage of a breaking bar to the energy that it took.", "swingloss");
  Session session;
  describe(app, session);
  const ExitCode end = parse_and_run(app, session, argc, argv);
  std::cout.flush();
  if (std::cout) return end;
  print_error(InputError::sentence({"standard output",
                                    "",
                                    "a place that takes no more text",
                                    "room for the results",
                                    "Free some space and run again."}));
  return ExitCode::BadInput;
}

}  // namespace

int run_swingloss(int argc, char** argv) noexcept {
  return exit_code_of([=] { return end_of(argc, argv); });
}

int exit_code_of(const std::function<ExitCode()>& work) noexcept {
  try {
    return static_cast<int>(work());
  } catch (const InputError& error) {
    print_error(error.what());
    return static_cast<int>(ExitCode::BadInput);
  } catch (const std::exception& error) {
    print_error(std::string("an internal fault (") + error.what() +
                "). Please report it with the command line and its input.");
  } catch (...) {
    print_error("an internal fault. Please report it with the command line and its input.");
  }
  return static_cast<int>(ExitCode::InternalFault);
}

}  // namespace swingloss
