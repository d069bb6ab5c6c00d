// SPDX-License-Identifier: Apache-2.0
/// \file made_clip.h
/// Angle tracks with known truth, by another integrator than the one that is fitted: leapfrog
/// (velocity Verlet) with a fixed step of 1e-4 s, the blow a jump of speed inside a step.
#pragma once

#include "core/angle_track.h"
#include "swing/swing_law.h"

#include <cstdint>
#include <limits>
#include <optional>
#include <vector>

namespace swingloss::test {

/// The pendulum that is swung.
struct MadeRig {
  double natural_rad_per_s = 5.0;
  SwingLaw law{0.002, 0.0, 0.007};
};

/// What stands in the way at the bottom. Energies over M.
struct MadeBar {
  double absorbs = 0.0;
  bool breaks = true;        ///< false: the hammer stops here
  double thrown_back = 0.0;  ///< energy given back when it does not break
  double at_rad = 0.0;       ///< where the hammer meets it
};

/// How the motion is turned into samples.
struct MadeSampling {
  double rate_per_s = 60.0;
  double from_s = 0.0, to_s = 1e300;
  double noise_deg = 0.02;
  double stated_u_deg = 0.0;   ///< 0: as the noise
  double correlation = 0.0;    ///< of neighbouring errors (AR 1)
  double jitter_s = 0.0;       ///< of the time stamps
  double outlier_share = 0.0;  ///< of samples that are anywhere within 20 degrees
  double zero_deg = 0.0;       ///< added to all angles, after the direction
  double direction = 1.0;
  double time_scale = 1.0;  ///< container time over true time
  double time_offset_s = 0.0;
  std::uint64_t seed = 1;
};

/// A film of a pendulum, put together act by act.
class MadeClip {
 public:
  explicit MadeClip(const MadeRig& rig);
  /// Held, or hanging, where it is.
  MadeClip& still(double for_s);
  /// Carried by hand to an angle, smoothly, arriving at rest.
  MadeClip& carried(double to_deg, double for_s);
  /// Let go, with or without a bar at the bottom.
  MadeClip& free(double for_s, const std::optional<MadeBar>& bar = std::nullopt);
  /// The footage is cut: the next act begins at another angle.
  MadeClip& cut_to(double angle_deg);

  [[nodiscard]] AngleTrack sampled(const MadeSampling& sampling) const;
  [[nodiscard]] double length_s() const;

  /// Of the last free act with a bar, or of the first free act.
  [[nodiscard]] double release_deg() const { return release_deg_; }
  [[nodiscard]] double release_s() const { return release_s_; }
  [[nodiscard]] double blow_s() const { return blow_s_; }
  /// First turning point after the bottom, as SwingMeasurement counts it.
  [[nodiscard]] double rise_deg() const { return rise_deg_; }
  [[nodiscard]] double turn_s() const { return turn_s_; }
  /// Friction on the way from release to rise, over M, by the balance of energy.
  [[nodiscard]] double friction_over_moment() const { return friction_; }

 private:
  void note(double theta);
  void one_step(const std::optional<MadeBar>& bar, bool& struck);
  void strike(const MadeBar& bar);

  MadeRig rig_;
  double theta_ = 0.0, omega_ = 0.0;
  std::vector<double> thetas_;
  double release_deg_ = std::numeric_limits<double>::quiet_NaN(), release_s_ = 0.0;
  double blow_s_ = 0.0, rise_deg_ = std::numeric_limits<double>::quiet_NaN(), turn_s_ = 0.0;
  double friction_ = 0.0;
  bool bar_seen_ = false;
};

/// 125 degrees, held 0.4 s, one blow of 0.63 M (as 2.5 J of a 3.9 N m hammer), 1.5 s more.
[[nodiscard]] MadeClip usual_blow(double absorbs = 0.63, double after_s = 1.5);
/// The same without a bar.
[[nodiscard]] MadeClip usual_free_swing(double for_s = 6.0);

}  // namespace swingloss::test
