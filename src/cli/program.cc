// SPDX-License-Identifier: Apache-2.0
#include "cli/program.h"

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

void describe(CLI::App& app, Session& session) {
  app.set_version_flag("--version", std::string("swingloss ") + kVersion);
  app.add_flag("-q,--quiet", session.quiet, "no account on stdout; errors and files as ever");
  app.add_option("-j,--jobs", session.jobs, "threads; 0 takes the machine's")
      ->check(CLI::Range(0, 1024))
      ->capture_default_str();
  app.require_subcommand(1);
  app.fallthrough();
  app.footer(
      "Example:\n"
      "  swingloss demo my-demo && swingloss run my-demo\n\n"
      "Exit codes: 0 done; 1 done, but some bars could not be measured; 2 wrong use or\n"
      "unreadable input; 3 internal fault.");
  add_run_command(app, session);
  add_swing_command(app, session);
  add_rig_command(app, session);
  add_rank_command(app, session);
  add_plan_command(app, session);
  add_new_command(app, session);
  add_demo_command(app, session);
  add_surface_command(app, session);
  add_sheet_command(app, session);
}

/// CLI11's messages as one of ours.
ExitCode refuse_arguments(const CLI::App& app, const CLI::ParseError& error) {
  const auto chosen = app.get_subcommands();
  const std::string command =
      chosen.empty() ? "swingloss" : "swingloss " + chosen.front()->get_name();
  print_error(
      InputError::sentence({"",
                            "command line",
                            std::string("arguments that do not fit (") + error.what() + ")",
                            "a command with its arguments",
                            "See: " + command + " --help"}));
  return ExitCode::BadInput;
}

ExitCode parse_and_run(CLI::App& app, Session& session, int argc, char** argv) {
  try {
    app.parse(argc, argv);
  } catch (const CLI::Success& help) {
    app.exit(help);
    return ExitCode::Done;
  } catch (const CLI::ParseError& error) {
    return refuse_arguments(app, error);
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
