// SPDX-License-Identifier: Apache-2.0
/// \file commands.h
/// One function a command: its arguments, its help, and what it calls.
#pragma once

namespace CLI {
class App;
}

namespace swingloss {

/// What a program's end says to the shell.
enum class ExitCode {
  Done = 0,  ///< everything that was asked for was measured
  SomeRefused =
      1,         ///< done, but some bars could not be measured; each was named with its cause
  BadInput = 2,  ///< wrong use, or input that cannot be read
  InternalFault = 3
};

/// Options of every command, and how the chosen one ended.
struct Session {
  bool quiet = false;  ///< neither progress nor account; errors still on stderr, files written
  int jobs = 0;        ///< threads; 0 takes the machine's
  ExitCode end = ExitCode::Done;
};

void add_run_command(CLI::App& app, Session& session);
void add_collect_command(CLI::App& app, Session& session);
void add_swing_command(CLI::App& app, Session& session);
void add_rig_command(CLI::App& app, Session& session);
void add_rank_command(CLI::App& app, Session& session);
void add_plan_command(CLI::App& app, Session& session);
void add_new_command(CLI::App& app, Session& session);
void add_demo_command(CLI::App& app, Session& session);
void add_sheet_command(CLI::App& app, Session& session);
void add_surface_command(CLI::App& app, Session& session);
void add_completion_command(CLI::App& app, Session& session);
void add_manual_command(CLI::App& app, Session& session);
void add_desk_command(CLI::App& app, Session& session);

}  // namespace swingloss
