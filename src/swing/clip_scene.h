// SPDX-License-Identifier: Apache-2.0
/// \file clip_scene.h
/// A track seen from hanging rest, cut into stretches to one side or the other.
#pragma once

#include "core/angle_track.h"
#include "swing/guess_law.h"
#include "swing/local_motion.h"

#include <cmath>
#include <optional>
#include <vector>

namespace swingloss {

/// The track seen from hanging rest, and what is known at each sample.
struct ClipScene {
  const std::vector<AngleSample>* samples = nullptr;
  std::vector<double> x_rad;
  std::vector<double> smooth_rad;  ///< the same from the parabola about each sample
  const LawGuess* guess = nullptr;
  std::vector<StaticStretch> still;
  std::vector<bool> leaning;      ///< held still close to the bottom, by a bar perhaps
  std::vector<std::size_t> cuts;  ///< samples before which the footage was cut
  double edge_rad = 0.0;          ///< closer to hanging than this is "the bottom"

  [[nodiscard]] double t_s(std::size_t i) const { return (*samples)[i].t_s; }
  /// Time from one sample to another in 1/w0.
  [[nodiscard]] double s_between(std::size_t a, std::size_t b) const {
    return (t_s(b) - t_s(a)) * guess->natural_rad_per_s;
  }
  /// Kinetic and height energy over M; nothing near a cut, where the speed is none.
  [[nodiscard]] std::optional<double> energy(std::size_t i) const {
    const LocalMotion& m = guess->motion[i];
    if (!m.known) return std::nullopt;
    for (const std::size_t cut : cuts) {
      const double s = (t_s(cut) - t_s(i)) * guess->natural_rad_per_s;
      if (std::abs(s) < 1.0) return std::nullopt;
    }
    const double omega = m.omega_rad_per_s / guess->natural_rad_per_s;
    return 0.5 * omega * omega + 1.0 - std::cos(x_rad[i]);
  }
};

/// A stretch on one side, away from the bottom. Samples [begin, end) of one uncut block.
struct Excursion {
  double side = 1.0;
  std::size_t begin = 0, end = 0;
  std::size_t block_end = 0;
};

/// Whether something holds the arm: free, it would be pulled from where it stands.
[[nodiscard]] bool is_held(const ClipScene& scene, const StaticStretch& still);

/// \param calm   the samples without spikes; must outlive the scene, as must `guess`
[[nodiscard]] ClipScene scene_of(const std::vector<AngleSample>& calm, const LawGuess& guess);

/// In the order of time.
[[nodiscard]] std::vector<Excursion> excursions(const ClipScene& scene);

}  // namespace swingloss
