// SPDX-License-Identifier: Apache-2.0
#include "cli/refuse_arguments.h"

#include "core/joined.h"
#include "core/nearest_name.h"
#include "core/number_text.h"

#include <algorithm>
#include <optional>

#include <CLI/CLI.hpp>

namespace swingloss {
namespace {

std::vector<std::string> command_names(const CLI::App& app) {
  std::vector<std::string> names;
  for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; })) {
    names.push_back(command->get_name());
  }
  return names;
}

std::vector<std::string> option_names(const CLI::App& command) {
  std::vector<std::string> names;
  for (const CLI::Option* option : command.get_options()) {
    for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
  }
  return names;
}

std::string question(const std::optional<std::string>& nearest) {
  return nearest ? "Did you mean " + *nearest + "? " : "";
}

bool is_option(const std::string& word) { return word.rfind('-', 0) == 0; }

/// The first word that nobody took; nothing when all were taken.
std::optional<std::string> left_over(const CLI::App& app) {
  const std::vector<std::string> words = app.remaining(true);
  if (words.empty()) return {};
  const std::string& word = words.front();
  return is_option(word) ? word.substr(0, word.find('=')) : word;
}

/// A typed number with a decimal comma that the complaint is about, with a point instead.
std::optional<std::string> with_point(const std::string& complaint,
                                      const std::vector<std::string>& words) {
  for (const std::string& word : words) {
    std::string number = word.substr(is_option(word) ? word.find('=') + 1 : 0);
    const std::size_t comma = number.find(',');
    if (comma == std::string::npos || complaint.find(number) == std::string::npos) continue;
    if (!parse_number(number, ',')) continue;
    number[comma] = '.';
    return number;
  }
  return {};
}

}  // namespace

InputError fault_of_arguments(const CLI::App& app,
                              const CLI::ParseError& error,
                              const std::vector<std::string>& words) {
  const auto chosen = app.get_subcommands();
  const std::optional<std::string> word = left_over(app);
  const std::string name =
      chosen.empty() ? "swingloss" : "swingloss " + chosen.front()->get_name();
  const std::string help = "See: " + name + " --help";
  if (word && chosen.empty() && !is_option(*word)) {
    const std::vector<std::string> known = command_names(app);
    return InputError({"",
                       "command line",
                       "\"" + *word + "\", which is no command",
                       "one of " + joined(known, ", "),
                       question(nearest_name(*word, known)) + help});
  }
  if (word && is_option(*word)) {
    const CLI::App& command = chosen.empty() ? app : *chosen.front();
    return InputError({"",
                       "command line",
                       "\"" + *word + "\", which is no option of " + name,
                       "an option that it has",
                       question(nearest_name(*word, option_names(command))) + help});
  }
  const std::optional<std::string> number = with_point(error.what(), words);
  return InputError({"",
                     "command line",
                     std::string("arguments that do not fit (") + error.what() + ")",
                     number ? "numbers with a decimal point" : "a command with its arguments",
                     (number ? "Write " + *number + ". " : "") + help});
}

}  // namespace swingloss
