// SPDX-License-Identifier: Apache-2.0
/// \file drawn_from.h
/// A note beside a report that says what it was drawn from, so that it need not be drawn again.
#pragma once

#include "report/shelf.h"

#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// The note `drawn-from.txt` in the results folder: a mark of all that the report came from,
/// then a line a file with the mark of its bytes.
class DrawnFrom {
 public:
  /// \param source  stands for everything that the report comes from
  DrawnFrom(const Shelf& shelf, const std::string& source);

  /// The files of the report that lies there, where it came from the same and each of its files
  /// still has the bytes that were written.
  [[nodiscard]] std::optional<std::vector<std::string>> unchanged(int jobs) const;

  /// Puts the note beside the files that the shelf has by now.
  void note(int jobs) const;

  /// A report that is being drawn has no note.
  void forget() const;

 private:
  [[nodiscard]] std::string text_for(const std::vector<std::string>& names, int jobs) const;

  const Shelf& shelf_;
  std::string source_mark_;
};

}  // namespace swingloss
