// SPDX-License-Identifier: Apache-2.0
#include "cli/completion.h"

#include "core/joined.h"

namespace swingloss {
namespace {

std::vector<std::string> names_of(const std::vector<CommandEntry>& commands) {
  std::vector<std::string> names;
  names.reserve(commands.size());
  for (const CommandEntry& command : commands) names.push_back(command.name);
  return names;
}

/// All that may be typed at a place where no value is due: options, and a positional's values.
std::string words_of(const std::vector<OptionEntry>& options) {
  std::vector<std::string> words;
  for (const OptionEntry& option : options) {
    const std::vector<std::string>& more = option.positional ? option.choices : option.names;
    words.insert(words.end(), more.begin(), more.end());
  }
  return joined(words, " ");
}

/// Text inside '...' of any of these shells.
std::string single_quoted(const std::string& text) {
  std::string quoted = "'";
  for (const char letter : text) quoted += letter == '\'' ? "'\\''" : std::string(1, letter);
  return quoted + "'";
}

/// The branches of bash's `case` for values after an option of one command.
std::string bash_values(const CommandEntry& command) {
  std::string branches;
  for (const OptionEntry& option : command.options) {
    if (option.positional || !option.takes_value) continue;
    if (option.choices.empty() && !option.number) continue;
    std::vector<std::string> patterns;
    for (const std::string& name : option.names)
      patterns.push_back("'" + command.name + " " + name + "'");
    branches += "    " + joined(patterns, "|") + ") words='" + joined(option.choices, " ") +
                "'; only=yes ;;\n";
  }
  return branches;
}

/// zsh reads : [ ] and backslash in a description as its own.
std::string zsh_text(const std::string& text) {
  std::string escaped;
  for (const char letter : text) {
    if (letter == ':' || letter == '[' || letter == ']' || letter == '\\') escaped += '\\';
    escaped += letter;
  }
  return escaped;
}

std::string zsh_value(const OptionEntry& option) {
  if (!option.choices.empty()) return ":value:(" + joined(option.choices, " ") + ")";
  return option.number ? ":number:" : ":file:_files";
}

std::string zsh_option(const OptionEntry& option) {
  if (option.positional) return "        " + single_quoted("*" + zsh_value(option)) + " \\\n";
  std::string lines;
  for (const std::string& name : option.names) {
    lines += "        " +
             single_quoted("*" + name + "[" + zsh_text(option.help) + "]" +
                           (option.takes_value ? zsh_value(option) : "")) +
             " \\\n";
  }
  return lines;
}

std::string fish_option(const CommandEntry& command, const OptionEntry& option) {
  const std::string start =
      "complete -c swingloss -n '__fish_seen_subcommand_from " + command.name + "'";
  if (option.positional) {
    return option.choices.empty()
               ? start + " -F\n"
               : start + " -f -a " + single_quoted(joined(option.choices, " ")) + "\n";
  }
  std::string line = start;
  for (const std::string& name : option.names) {
    const bool is_long = name.rfind("--", 0) == 0;
    line += (is_long ? " -l " : " -s ") + name.substr(is_long ? 2 : 1);
  }
  if (option.takes_value) {
    if (!option.choices.empty()) {
      line += " -x -a " + single_quoted(joined(option.choices, " "));
    } else {
      line += option.number ? " -x" : " -r -F";
    }
  }
  return line + " -d " + single_quoted(option.help) + "\n";
}

}  // namespace

std::string bash_completion(const CommandList& list) {
  const std::string commands = joined(names_of(list.commands), " ");
  std::string script =
      "# bash completion for swingloss; written by: swingloss completion bash\n"
      "_swingloss() {\n"
      "  local current=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]}\n"
      "  local command= words= only= word\n"
      "  for word in \"${COMP_WORDS[@]:1:COMP_CWORD-1}\"; do\n"
      "    case $word in\n      " +
      joined(names_of(list.commands), "|") +
      ") command=$word; break ;;\n    esac\n  done\n  case $command in\n    '') words='" +
      commands + " " + words_of(list.common) + "'; only=yes ;;\n";
  for (const CommandEntry& command : list.commands)
    script += "    " + command.name + ") words='" + words_of(command.options) + "' ;;\n";
  script += "  esac\n  case \"$command $before\" in\n";
  for (const CommandEntry& command : list.commands) script += bash_values(command);
  return script +
         "  esac\n"
         "  mapfile -t COMPREPLY < <(compgen -W \"$words\" -- \"$current\")\n"
         "  [[ -n $only || $current == -* ]] && return\n"
         "  local file\n"
         "  while IFS= read -r file; do COMPREPLY+=(\"$file\"); done "
         "< <(compgen -f -- \"$current\")\n"
         "  compopt -o filenames 2>/dev/null || true\n"
         "}\n"
         "complete -F _swingloss swingloss\n";
}

std::string zsh_completion(const CommandList& list) {
  std::string script =
      "#compdef swingloss\n# written by: swingloss completion zsh\n"
      "_swingloss() {\n  local context state state_descr line\n  typeset -A opt_args\n"
      "  local -a commands\n  commands=(\n";
  for (const CommandEntry& command : list.commands)
    script += "    " + single_quoted(command.name + ":" + zsh_text(command.help)) + "\n";
  script += "  )\n  _arguments -C \\\n";
  for (const OptionEntry& option : list.common) script += zsh_option(option);
  script +=
      "        '1:command:->command' '*::argument:->arguments'\n"
      "  case $state in\n    command) _describe command commands ;;\n"
      "    arguments)\n      case $words[1] in\n";
  for (const CommandEntry& command : list.commands) {
    script += "      " + command.name + ")\n        _arguments \\\n";
    for (const OptionEntry& option : command.options) script += zsh_option(option);
    script += "        && return ;;\n";
  }
  return script + "      esac ;;\n  esac\n}\n_swingloss \"$@\"\n";
}

std::string fish_completion(const CommandList& list) {
  std::string script =
      "# fish completion for swingloss; written by: swingloss completion fish\n"
      "complete -c swingloss -f\n";
  for (const CommandEntry& command : list.commands) {
    script += "complete -c swingloss -n __fish_use_subcommand -a " + command.name + " -d " +
              single_quoted(command.help) + "\n";
  }
  for (const CommandEntry& command : list.commands) {
    for (const OptionEntry& option : command.options) script += fish_option(command, option);
  }
  return script;
}

}  // namespace swingloss
