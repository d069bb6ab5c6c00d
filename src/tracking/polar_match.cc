// SPDX-License-Identifier: Apache-2.0
#include "tracking/polar_match.h"

#include <algorithm>
#include <cmath>

namespace swingloss {

PolarMatch::PolarMatch(const cv::Mat& background,
                       const PolarArm& arm,
                       float least_presence,
                       double cap_levels)
    : background_(background), cap_(float(cap_levels)) {
  for (int r = 0; r < arm.presence.rows; ++r) {
    for (int b = 0; b < kDirectionBins; ++b) {
      const float presence = arm.presence.at<float>(r, b);
      // A direction bin at radius r is r wide: weigh by area.
      if (presence > least_presence)
        cells_.push_back({r, b, arm.look.at<float>(r, b), presence * float(r + 1)});
    }
  }
}

std::vector<float> PolarMatch::scores(const cv::Mat& look) const {
  std::vector<float> out(kDirectionBins);
  for (int turn = 0; turn < kDirectionBins; ++turn) {
    float sum = 0.0F;
    for (const Cell& c : cells_) {
      const int bin =
          c.bin + turn < kDirectionBins ? c.bin + turn : c.bin + turn - kDirectionBins;
      const float behind = background_.at<float>(c.row, bin);
      if (behind < 0.0F) continue;  // outside the picture: says nothing
      const auto value = float(look.at<uchar>(c.row, bin));
      const float to_background = std::min(cap_, std::abs(value - behind));
      sum += c.weight * (to_background - std::min(cap_, std::abs(value - c.look)));
    }
    out[std::size_t(turn)] = std::max(0.0F, sum);
  }
  return out;
}

double vertex(const std::vector<float>& scores, int bin) {
  const double left = double(scores[std::size_t(wrapped_bin(bin - 1))]),
               mid = double(scores[std::size_t(wrapped_bin(bin))]),
               right = double(scores[std::size_t(wrapped_bin(bin + 1))]);
  const double bend = left - 2.0 * mid + right;
  return bend < 0.0 ? std::clamp(0.5 * (left - right) / bend, -1.0, 1.0) : 0.0;
}

}  // namespace swingloss
