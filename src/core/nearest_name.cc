// SPDX-License-Identifier: Apache-2.0
#include "core/nearest_name.h"

#include <algorithm>

namespace swingloss {
namespace {

std::string folded(std::string name) {
  for (char& c : name) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    if (c == '-' || c == ' ') c = '_';
  }
  return name;
}

}  // namespace

int name_distance(const std::string& name_a, const std::string& name_b) {
  const std::string a = folded(name_a);
  const std::string b = folded(name_b);
  std::vector<int> two_before(b.size() + 1);
  std::vector<int> before(b.size() + 1);
  std::vector<int> now(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) before[j] = static_cast<int>(j);
  for (std::size_t i = 1; i <= a.size(); ++i) {
    now[0] = static_cast<int>(i);
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const int replaced = before[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      now[j] = std::min({replaced, before[j] + 1, now[j - 1] + 1});
      const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
      if (swapped) now[j] = std::min(now[j], two_before[j - 2] + 1);
    }
    two_before = before;
    before = now;
  }
  return before[b.size()];
}

std::optional<std::string> nearest_name(const std::string& name,
                                        const std::vector<std::string>& known) {
  std::optional<std::string> best;
  int best_distance = 0;
  for (const std::string& candidate : known) {
    const int distance = name_distance(name, candidate);
    const auto length = static_cast<int>(std::max(name.size(), candidate.size()));
    if (distance > std::max(2, length / 3) || distance >= length) continue;
    if (best && distance >= best_distance) continue;
    best = candidate;
    best_distance = distance;
  }
  return best;
}

}  // namespace swingloss
