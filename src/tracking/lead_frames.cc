// SPDX-License-Identifier: Apache-2.0
#include "tracking/lead_frames.h"

#include "core/angle.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace swingloss {
namespace {

constexpr double kSector_rad = 4.0 * kPi / 180.0;
/// A short arc has narrower ones: a few still pictures alone, of a hand that holds the arm,
/// would lead it astray.
constexpr double kLeastSectors = 30.0;
constexpr std::size_t kInSector = 6;
/// Up to here all frames lead: a second or two of film.
constexpr std::size_t kShortClip = 100;

}  // namespace

std::vector<std::size_t> lead_frames(const std::vector<ArmCrop>& crops) {
  std::vector<std::size_t> order(crops.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  if (crops.size() <= kShortClip) return order;
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return std::abs(crops[a].omega_rad_per_s) < std::abs(crops[b].omega_rad_per_s);
  });
  const auto [low, high] =
      std::minmax_element(crops.begin(), crops.end(), [](const ArmCrop& a, const ArmCrop& b) {
        return a.theta_rad < b.theta_rad;
      });
  const double swept_rad = high->theta_rad - low->theta_rad;
  const double sector_rad = std::clamp(swept_rad / kLeastSectors, 1e-4, kSector_rad);
  std::map<int, std::size_t> taken;
  std::vector<std::size_t> lead;
  for (std::size_t i : order) {
    std::size_t& count = taken[int(std::floor(crops[i].theta_rad / sector_rad))];
    if (count < kInSector) ++count, lead.push_back(i);
  }
  std::sort(lead.begin(), lead.end());
  return lead;
}

std::vector<ArmCrop> only(const std::vector<ArmCrop>& crops,
                          const std::vector<std::size_t>& which) {
  std::vector<ArmCrop> out;
  out.reserve(which.size());
  for (std::size_t k : which) out.push_back(crops[k]);
  return out;
}

ArmTag only(const ArmTag& tag, const std::vector<std::size_t>& which) {
  ArmTag out = tag;
  out.corners.clear();
  for (TagCorner corner : tag.corners) {
    const auto at =
        std::lower_bound(which.begin(), which.end(), static_cast<std::size_t>(corner.frame));
    if (at == which.end() || int(*at) != corner.frame) continue;
    corner.frame = int(at - which.begin());
    out.corners.push_back(corner);
  }
  return out;
}

}  // namespace swingloss
