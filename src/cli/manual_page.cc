// SPDX-License-Identifier: Apache-2.0
#include "cli/manual_page.h"

#include <sstream>

namespace swingloss {
namespace {

/// Plain text for troff: a hyphen stays one, and no line begins with a request.
std::string plain(const std::string& text) {
  std::string escaped;
  for (const char letter : text) {
    const bool starts_line = escaped.empty() || escaped.back() == '\n';
    if (starts_line && (letter == '.' || letter == '\'')) escaped += "\\&";
    if (letter == '\\') {
      escaped += "\\e";
    } else if (letter == '-') {
      escaped += "\\-";
    } else {
      escaped += letter;
    }
  }
  return escaped;
}

std::string bold(const std::string& text) { return "\\fB" + plain(text) + "\\fR"; }

std::string italic(const std::string& text) { return "\\fI" + plain(text) + "\\fR"; }

std::string value_word(const OptionEntry& option) {
  if (!option.choices.empty()) {
    std::string words;
    for (const std::string& choice : option.choices)
      words += (words.empty() ? "" : "|") + plain(choice);
    return words;
  }
  return italic(option.number ? "number" : "value");
}

std::string head_of(const OptionEntry& option) {
  if (option.positional) return italic(option.names.front());
  std::string names;
  for (const std::string& name : option.names)
    names += (names.empty() ? "" : ", ") + bold(name);
  return option.takes_value ? names + " " + value_word(option) : names;
}

std::string items_of(const std::vector<OptionEntry>& options) {
  std::string text;
  for (const OptionEntry& option : options) {
    text += ".TP\n" + head_of(option) + "\n" + plain(option.help);
    if (option.positional && !option.choices.empty()) text += ": " + value_word(option);
    if (!option.standard.empty()) text += " (" + plain(option.standard) + " if not given)";
    text += "\n";
  }
  return text;
}

/// "Example:\n  swingloss ..." as a block that keeps its lines.
std::string examples_of(const std::string& footer) {
  std::istringstream stream(footer);
  std::string block;
  for (std::string line; std::getline(stream, line);) {
    if (line.rfind("  ", 0) == 0) block += plain(line.substr(2)) + "\n";
  }
  return block.empty() ? block : ".PP\n.nf\n.RS 4\n" + block + ".RE\n.fi\n";
}

std::string synopsis(const CommandEntry& command) {
  std::string line = bold("swingloss " + command.name) + " [" + italic("options") + "]";
  for (const OptionEntry& option : command.options) {
    if (!option.positional) continue;
    const std::string word = italic(option.names.front());
    line += " ";
    line += option.required ? word : "[" + word + "]";
  }
  return line;
}

constexpr const char* kFiles = R"(.SH FILES
A series is a folder: \fIseries.json\fR, \fIspecimens.csv\fR, \fIrig.json\fR, \fIclips/\fR,
\fIphotos/\fR and \fIresults/\fR. All that is written goes into \fIresults/\fR: the report
\fIreport.html\fR, tables \fIresults.csv\fR and \fIresults.json\fR, \fIcharts/\fR, \fIplates/\fR,
\fIoverlays/\fR.
.B swingloss new
writes a folder in which every field is explained.
.SH SEVERAL MACHINES
.B swingloss run \fISERIES\fB \-\-only \fII\fB/\fIN\fR measures every \fIN\fRth bar from the
\fII\fRth on and writes \fIresults/swings\fR, \fIresults/surfaces\fR and
\fIresults/free\-swings\fR; it ranks nothing. All \fIN\fR parts may be at work at once, on one
shared folder or on copies of it whose three folders are then copied together. Each record is written
whole or not at all.
.B swingloss collect \fISERIES\fR measures nothing: it ranks and reports as a single run would,
with the same bytes where all machines have the same program and kind of processor, or names the
bars that are missing. A part that was killed is started again and measures only what it lacks.
.SH EXIT STATUS
.TP
.B 0
done
.TP
.B 1
done, but some bars, or all, could not be measured; each is named with its cause
.TP
.B 2
wrong use, or input that cannot be read: nothing was measured
.TP
.B 3
a fault inside the program
.SH CAUTIONS
The tool is not an accredited test, and nothing that it measures says that a part is safe to carry
a load or a person. While the hammer is up, nobody stands in the plane of the swing.
)";

}  // namespace

std::string manual_page(const CommandList& list, const std::string& version) {
  std::string page =
      ".\\\" SPDX\\-License\\-Identifier: Apache\\-2.0\n.TH SWINGLOSS 1 \"\" \"" +
      plain("swingloss " + version) + "\" \"User commands\"\n.SH NAME\n" + "swingloss \\- " +
      plain(list.help) + "\n.SH SYNOPSIS\n.B swingloss\n[" + italic("options") + "] " +
      italic("command") + " [" + italic("arguments") + "]\n.SH DESCRIPTION\n";
  page +=
      "The height that a pendulum does not regain is the energy that the bar took. swingloss\n"
      "follows the arm through clips of a home\\-built pendulum, works out that energy with "
      "its\n"
      "uncertainty, and ranks materials by it. Results go to standard output, progress and\n"
      "complaints to standard error.\n.SH OPTIONS\n" +
      items_of(list.common) + ".SH COMMANDS\n";
  for (const CommandEntry& command : list.commands) {
    page += ".SS " + command.name + "\n" + synopsis(command) + "\n.PP\n" + plain(command.help) +
            ".\n" + items_of(command.options) + examples_of(command.examples);
  }
  return page + kFiles + ".SH EXAMPLES\n" + examples_of(list.footer);
}

}  // namespace swingloss
