// SPDX-License-Identifier: Apache-2.0
#include "cli/command_list.h"

#include <sstream>

#include <CLI/CLI.hpp>

namespace swingloss {
namespace {

/// The parser names a closed list of values "{a,b,c}" in the type of the option.
std::vector<std::string> choices_in(const std::string& type) {
  const std::size_t from = type.find('{');
  const std::size_t to = type.find('}', from);
  std::vector<std::string> choices;
  if (from == std::string::npos || to == std::string::npos) return choices;
  std::istringstream list(type.substr(from + 1, to - from - 1));
  for (std::string choice; std::getline(list, choice, ',');) choices.push_back(choice);
  return choices;
}

OptionEntry entry_of(const CLI::Option& option) {
  OptionEntry entry;
  entry.positional = option.get_positional();
  if (entry.positional) entry.names.push_back(option.get_name(true));
  for (const std::string& name : option.get_snames()) entry.names.push_back("-" + name);
  for (const std::string& name : option.get_lnames()) entry.names.push_back("--" + name);
  entry.help = option.get_description();
  entry.takes_value = option.get_items_expected_max() > 0;
  const std::string type = option.get_type_name();
  entry.choices = choices_in(type);
  entry.standard = entry.takes_value ? option.get_default_str() : "";
  entry.required = option.get_required();
  entry.number =
      type.rfind("INT", 0) == 0 || type.rfind("FLOAT", 0) == 0 || type.rfind("UINT", 0) == 0;
  return entry;
}

std::vector<OptionEntry> entries_of(const CLI::App& app) {
  std::vector<OptionEntry> entries;
  for (const CLI::Option* option : app.get_options()) entries.push_back(entry_of(*option));
  return entries;
}

}  // namespace

CommandList command_list(const CLI::App& app) {
  CommandList list{app.get_description(), app.get_footer(), entries_of(app), {}};
  for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; })) {
    list.commands.push_back({command->get_name(),
                             command->get_description(),
                             entries_of(*command),
                             command->get_footer()});
  }
  return list;
}

}  // namespace swingloss
