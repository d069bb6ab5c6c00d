// SPDX-License-Identifier: Apache-2.0
#include "cli/commands.h"
#include "desk/server.h"

#include <array>
#include <chrono>
#include <ctime>
#include <iostream>
#include <memory>
#include <random>
#include <string>

#include <CLI/CLI.hpp>

namespace swingloss {
namespace {

struct DeskArgs {
  std::string series;
  int port = 0;
};

/// 26 letters and digits drawn from the system: 134 bits.
std::string new_token() {
  const std::string signs = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789";
  std::random_device system;
  std::uniform_int_distribution<std::size_t> any(0, signs.size() - 1);
  std::string token;
  for (int i = 0; i < 26; ++i) token += signs[any(system)];
  return token;
}

std::string utc_now() {
  const std::time_t now =
      std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
  std::tm parts{};
  ::gmtime_r(&now, &parts);
  std::array<char, 32> text{};
  std::strftime(text.data(), text.size(), "%Y-%m-%dT%H:%M:%SZ", &parts);
  return text.data();
}

ExitCode serve(const DeskArgs& args, const Session& session) {
  Desk desk({args.series, session.jobs, utc_now});
  ServerOptions options;
  options.port = args.port;
  options.token = new_token();
  DeskServer server(desk, options);
  std::cout << server.address() << std::endl;
  if (!session.quiet) {
    std::cerr << "Open this address in a browser on this machine. It lets in whoever has it: "
                 "give it to nobody. Ctrl-C ends the desk."
              << std::endl;
  }
  server.listen();
  return ExitCode::Done;
}

}  // namespace

void add_desk_command(CLI::App& app, Session& session) {
  const auto args = std::make_shared<DeskArgs>();
  CLI::App* command =
      app.add_subcommand("desk", "See and correct a series in the browser of this machine");
  command->add_option("series", args->series, "folder with series.json and specimens.csv")
      ->required();
  command->add_option("--port", args->port, "on 127.0.0.1; 0 takes any free one")
      ->check(CLI::Range(0, 65535))
      ->capture_default_str();
  command->footer(
      "Example:\n  swingloss desk my-series\n\nPrints the address to open and serves it until "
      "Ctrl-C. Only this machine can reach it.\nCorrections are kept in "
      "my-series/results/corrections.json, and swingloss run heeds them too.");
  command->callback([args, &session] { session.end = serve(*args, session); });
}

}  // namespace swingloss
