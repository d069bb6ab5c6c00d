// SPDX-License-Identifier: Apache-2.0
#include "tracking/lively_frames.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

/// Rates between neighbours, one fewer than the frames.
std::vector<double> rates_of(const std::vector<double>& t_s,
                             const std::vector<double>& theta_rad) {
  std::vector<double> rates;
  for (std::size_t k = 1; k < t_s.size(); ++k) {
    const double gap_s = t_s[k] - t_s[k - 1];
    rates.push_back(gap_s > 0.0 ? std::abs(theta_rad[k] - theta_rad[k - 1]) / gap_s : 0.0);
  }
  return rates;
}

/// What only one frame in five hundred is faster than: a coarse direction that jumps is not
/// taken for a fall.
double fastest_of(std::vector<double> rates) {
  const auto at = rates.end() - 1 - static_cast<std::ptrdiff_t>(rates.size() / 500);
  std::nth_element(rates.begin(), at, rates.end());
  return *at;
}

std::vector<bool> lively(const std::vector<double>& t_s, const std::vector<double>& theta_rad) {
  constexpr double kFast = 0.3, kAround_s = 1.0;
  const std::vector<double> rates = rates_of(t_s, theta_rad);
  const double least = kFast * fastest_of(rates);
  std::vector<bool> out(t_s.size(), false);
  std::size_t marked = 0;  // up to here it is settled
  for (std::size_t k = 0; k < rates.size(); ++k) {
    if (rates[k] < least) continue;
    const auto from =
        std::lower_bound(t_s.begin(), t_s.end(), t_s[k] - kAround_s) - t_s.begin();
    const auto to =
        std::upper_bound(t_s.begin(), t_s.end(), t_s[k + 1] + kAround_s) - t_s.begin();
    const std::size_t begin = std::max(marked, static_cast<std::size_t>(from));
    const auto end = static_cast<std::size_t>(to);
    for (std::size_t i = begin; i < end; ++i) out[i] = true;
    marked = std::max(marked, end);
  }
  return out;
}

/// Every few of those that are, or are not, lively.
void take(const std::vector<bool>& lively,
          bool wanted,
          std::size_t most,
          std::vector<int>& out) {
  const auto count = static_cast<std::size_t>(std::count(lively.begin(), lively.end(), wanted));
  const std::size_t step = std::max<std::size_t>(1, (count + most - 1) / most);
  std::size_t seen = 0;
  for (std::size_t k = 0; k < lively.size(); ++k) {
    if (lively[k] == wanted && seen++ % step == 0) out.push_back(static_cast<int>(k));
  }
}

}  // namespace

std::vector<int> frames_to_refine(const std::vector<double>& t_s,
                                  const std::vector<double>& theta_rad) {
  constexpr std::size_t kMostQuiet = kMostRefined / 8;
  std::vector<int> frames;
  if (t_s.size() <= kMostRefined) {
    for (std::size_t k = 0; k < t_s.size(); ++k) frames.push_back(static_cast<int>(k));
    return frames;
  }
  const std::vector<bool> marks = lively(t_s, theta_rad);
  take(marks, true, kMostRefined - kMostQuiet, frames);
  take(marks, false, kMostQuiet, frames);
  std::sort(frames.begin(), frames.end());
  return frames;
}

}  // namespace swingloss
