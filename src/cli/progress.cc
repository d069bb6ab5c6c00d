// SPDX-License-Identifier: Apache-2.0
#include "cli/progress.h"

#include <iostream>

#include <unistd.h>

namespace swingloss {

namespace {

bool silent(bool quiet) { return quiet || ::isatty(STDERR_FILENO) == 0; }

void overwrite(const std::string& line, bool last) {
  constexpr const char* kClearLine = "\r\033[K";
  std::cerr << kClearLine << line << std::flush;
  if (last) std::cerr << kClearLine << std::flush;
}

std::string of_count(std::size_t done, std::size_t count) {
  return std::to_string(done) + " of " + std::to_string(count) + ": ";
}

}  // namespace

std::function<void(const BarProgress&)> terminal_progress(bool quiet, const std::string& verb) {
  if (silent(quiet)) return {};
  return [verb](const BarProgress& progress) {
    overwrite("measured " + of_count(progress.done, progress.count) + progress.id +
                  (progress.measured ? "" : " (refused)"),
              progress.done == progress.count);
  };
}

std::function<void(std::size_t, std::size_t, const std::string&)> terminal_count(bool quiet) {
  if (silent(quiet)) return {};
  return [](std::size_t done, std::size_t count, const std::string& name) {
    overwrite("written " + of_count(done, count) + name, done == count);
  };
}

}  // namespace swingloss
