// SPDX-License-Identifier: Apache-2.0
/// \file remark.h
/// What a result has to say beside its numbers.
#pragma once

#include <string>
#include <vector>

namespace swingloss {

enum class Severity {
  Note,     ///< worth knowing; the numbers stand
  Warning,  ///< the numbers stand, with the doubt that the text names
  Refusal,  ///< a number was withheld for this reason
};

/// One remark. `code` is kebab-case, stable, for programs ("short-rest"); `text` is a sentence
/// or two for the person at the rig: what was seen, what it means, what to do.
struct Remark {
  std::string code;
  Severity severity = Severity::Note;
  std::string text;
};

using Remarks = std::vector<Remark>;

/// Puts `more` after what is there.
inline void append(Remarks& remarks, const Remarks& more) {
  remarks.insert(remarks.end(), more.begin(), more.end());
}

/// "note", "warning" or "refusal", as files spell it.
[[nodiscard]] inline const char* name_of(Severity severity) {
  switch (severity) {
    case Severity::Note:
      return "note";
    case Severity::Warning:
      return "warning";
    case Severity::Refusal:
      return "refusal";
  }
  return "note";
}

}  // namespace swingloss
