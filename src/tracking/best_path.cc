// SPDX-License-Identifier: Apache-2.0
#include "tracking/best_path.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

constexpr int kBins = kDirectionBins;
/// No home-made pendulum turns faster: an arm of 5 cm reaches 28 rad/s from upright.
constexpr double kFastest_rad_per_s = 30.0;

/// The best way into a bin from the frame before.
struct Step {
  float value = -1e30F;
  short came = 0;  ///< bins from this one to that of the frame before
};

/// \param total  best sums up to the frame before \param cost  of a step at full reach
Step best_step(const std::vector<float>& total, int bin, int reach, float cost) {
  Step best;
  for (int d = -reach; d <= reach; ++d) {
    const float step = float(d) / float(reach);
    const float value = total[std::size_t(wrapped_bin(bin + d))] - cost * step * step;
    if (value > best.value) best = {value, short(d)};
  }
  return best;
}

}  // namespace

std::vector<int> best_path(const std::vector<std::vector<float>>& scores,
                           const std::vector<double>& t_s) {
  const std::size_t n = scores.size();
  std::vector<std::vector<short>> came(n, std::vector<short>(kBins, 0));
  std::vector<float> total = scores[0];
  float typical = 1e-3F;
  for (const auto& row : scores)
    typical += *std::max_element(row.begin(), row.end()) / float(n);
  for (std::size_t k = 1; k < n; ++k) {
    const double gap_s = std::clamp(t_s[k] - t_s[k - 1], 1e-3, 0.1);
    const int reach = std::min(90, 2 + int(kFastest_rad_per_s * gap_s / kDirectionBin_rad));
    std::vector<float> next(kBins);
    for (int b = 0; b < kBins; ++b) {
      const Step step = best_step(total, b, reach, 0.15F * typical);
      came[k][std::size_t(b)] = step.came;
      next[std::size_t(b)] = step.value + scores[k][std::size_t(b)];
    }
    total = next;
  }
  std::vector<int> path(n);
  path[n - 1] = int(std::max_element(total.begin(), total.end()) - total.begin());
  for (std::size_t k = n - 1; k > 0; --k)
    path[k - 1] = path[k] + came[k][std::size_t(wrapped_bin(path[k]))];
  return path;  // unwrapped by construction
}

}  // namespace swingloss
