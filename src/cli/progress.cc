// SPDX-License-Identifier: Apache-2.0
#include "cli/progress.h"

#include <iostream>

#include <unistd.h>

namespace swingloss {

namespace {

/// A terminal shows one line that is written over; a file keeps a line for each.
void tell(const std::string& line, bool last) {
  constexpr const char* kClearLine = "\r\033[K";
  if (::isatty(STDERR_FILENO) == 0) {
    std::cerr << line << std::endl;
    return;
  }
  std::cerr << kClearLine << line << std::flush;
  if (last) std::cerr << kClearLine << std::flush;
}

}  // namespace

std::function<void(const BarProgress&)> progress_lines(bool quiet, const std::string& verb) {
  if (quiet) return {};
  return [verb](const BarProgress& progress) {
    tell(verb + " " + std::to_string(progress.done) + " of " + std::to_string(progress.count) +
             ": " + progress.id + (progress.measured ? "" : " (refused)"),
         progress.done == progress.count);
  };
}

}  // namespace swingloss
