// SPDX-License-Identifier: Apache-2.0
#include "cli/time_left.h"

#include <cmath>

namespace swingloss {

std::optional<double> TimeLeft::tell(double now_s, std::size_t done, std::size_t count) {
  constexpr double kCostsNothing_s = 0.1;
  const double took_s = now_s - last_s_;
  last_s_ = now_s;
  if (took_s > kCostsNothing_s) {
    costly_s_ += took_s;
    ++costly_;
  }
  if (costly_ == 0 || done >= count) return {};
  return costly_s_ / static_cast<double>(costly_) * static_cast<double>(count - done);
}

std::string time_left_words(double left_s) {
  constexpr double kMinute_s = 60.0, kHour_s = 3600.0;
  const auto words = [](double value, const char* unit) {
    return "about " + std::to_string(std::lround(value)) + " " + unit + " left";
  };
  if (left_s >= 1.5 * kHour_s) return words(left_s / kHour_s, "h");
  if (left_s >= 1.5 * kMinute_s) return words(left_s / kMinute_s, "min");
  constexpr double kStep_s = 5.0;
  return words(kStep_s * std::ceil(left_s / kStep_s), "s");
}

}  // namespace swingloss
