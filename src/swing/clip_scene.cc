// SPDX-License-Identifier: Apache-2.0
#include "swing/clip_scene.h"

#include "core/median.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

/// Whether the footage was cut before sample i: too long without a picture, or farther than
/// the arm can have moved.
bool cut_before(const ClipScene& scene, std::size_t i) {
  if (scene.s_between(i - 1, i) > 1.0) return true;
  const auto out_of_reach = [&](std::size_t a, std::size_t b) {
    // 2 is the greatest speed that a pendulum can have, in these units.
    const double reach_rad =
        2.5 * scene.s_between(a, b) + 5.0 * (*scene.samples)[b].u_rad + 0.02;
    return std::abs(scene.x_rad[b] - scene.x_rad[a]) > reach_rad;
  };
  // One wild sample is out of reach too, but the next is back.
  const bool still_before = i < 2 || out_of_reach(i - 2, i);
  const bool still_after = i + 1 >= scene.x_rad.size() || out_of_reach(i - 1, i + 1);
  return out_of_reach(i - 1, i) && still_before && still_after;
}

}  // namespace

bool is_held(const ClipScene& scene, const StaticStretch& still) {
  const double w0 = scene.guess->natural_rad_per_s;
  const double pull = w0 * w0 * std::sin(still.theta_rad - scene.guess->zero_rad);
  std::vector<double> alpha;
  for (std::size_t i = still.begin + 1; i + 1 < still.end; ++i) {
    if (scene.guess->motion[i].known) alpha.push_back(scene.guess->motion[i].alpha_rad_per_s2);
  }
  return std::abs(median_of(alpha)) < 0.4 * std::abs(pull);
}

ClipScene scene_of(const std::vector<AngleSample>& calm, const LawGuess& guess) {
  ClipScene scene;
  scene.samples = &calm;
  scene.guess = &guess;
  std::vector<double> u;
  double largest_rad = 0.0;
  for (std::size_t i = 0; i < calm.size(); ++i) {
    const LocalMotion& m = guess.motion[i];
    scene.x_rad.push_back(calm[i].theta_rad - guess.zero_rad);
    const double smooth_rad = m.known ? m.theta_rad - guess.zero_rad : scene.x_rad.back();
    // A blow bends the parabola by a few degrees; what is farther off is no angle of the arm.
    if (std::abs(smooth_rad - scene.x_rad.back()) > 0.12) scene.x_rad.back() = smooth_rad;
    scene.smooth_rad.push_back(smooth_rad);
    u.push_back(calm[i].u_rad);
    largest_rad = std::max(largest_rad, std::abs(scene.x_rad.back()));
  }
  const double u_rad = median_of(u);
  scene.still = static_stretches(calm, 4.0 * u_rad + 5e-4, 0.8 / guess.natural_rad_per_s);
  // A bar may stand a few degrees before or behind hanging rest.
  const double bar_rad = std::min(0.06, 0.1 * largest_rad);
  scene.edge_rad = std::max({0.02 * largest_rad, bar_rad, 6.0 * u_rad});
  scene.leaning.assign(calm.size(), false);
  for (const StaticStretch& still : scene.still) {
    const double off_rad = std::abs(still.theta_rad - guess.zero_rad);
    if (off_rad > std::min(0.14, 0.2 * largest_rad) || !is_held(scene, still)) continue;
    for (std::size_t i = still.begin; i < still.end; ++i) scene.leaning[i] = true;
  }
  for (std::size_t i = 1; i < calm.size(); ++i) {
    if (cut_before(scene, i)) scene.cuts.push_back(i);
  }
  return scene;
}

std::vector<Excursion> excursions(const ClipScene& scene) {
  std::vector<Excursion> found;
  const std::size_t n = scene.x_rad.size();
  auto cut = scene.cuts.begin();
  for (std::size_t i = 0; i < n; ++i) {
    const bool starts = i == 0 || (cut != scene.cuts.end() && *cut == i);
    if (starts && i > 0) ++cut;
    const std::size_t block_end = cut != scene.cuts.end() ? *cut : n;
    const double side = scene.x_rad[i] > 0.0 ? 1.0 : -1.0;
    const double away_rad = scene.leaning[i] ? 0.0 : std::abs(scene.x_rad[i]);
    const bool goes_on =
        !starts && !found.empty() && found.back().end == i && found.back().side == side;
    if (goes_on && away_rad >= scene.edge_rad) {
      found.back().end = i + 1;
    } else if (away_rad >= 2.0 * scene.edge_rad) {
      found.push_back({side, i, i + 1, block_end});
    }
  }
  return found;
}

}  // namespace swingloss
