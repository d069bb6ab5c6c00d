// SPDX-License-Identifier: Apache-2.0
#include "cli/progress.h"

#include "cli/time_left.h"

#include <chrono>
#include <iostream>
#include <memory>

#include <unistd.h>

namespace swingloss {

namespace {

bool on_terminal() { return ::isatty(STDERR_FILENO) != 0; }

double now_s() {
  using Clock = std::chrono::steady_clock;
  return std::chrono::duration<double>(Clock::now().time_since_epoch()).count();
}

constexpr const char* kClearLine = "\r\033[K";

}  // namespace

std::function<void(const BarProgress&)> progress_lines(bool quiet, const std::string& verb) {
  if (quiet) return {};
  const auto left = std::make_shared<TimeLeft>(now_s());
  return [verb, left](const BarProgress& progress) {
    const std::string line = verb + " " + std::to_string(progress.done) + " of " +
                             std::to_string(progress.count) + ": " + progress.id +
                             (progress.measured ? "" : " (refused)");
    if (!on_terminal()) {
      std::cerr << line << std::endl;
      return;
    }
    const auto left_s = left->tell(now_s(), progress.done, progress.count);
    std::cerr << kClearLine << line << (left_s ? ", " + time_left_words(*left_s) : "")
              << (progress.done == progress.count ? kClearLine : "") << std::flush;
  };
}

std::function<void(const BarProgress&)> drawing_progress(bool quiet) {
  if (quiet || !on_terminal()) return {};
  return progress_lines(quiet, "drawn");
}

}  // namespace swingloss
