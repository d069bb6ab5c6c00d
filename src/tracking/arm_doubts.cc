// SPDX-License-Identifier: Apache-2.0
#include "tracking/arm_doubts.h"

#include "core/number_text.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>

namespace swingloss {
namespace {

constexpr double kReadout_s = 0.015;
/// Where on the arm its angle is read, on the average.
constexpr double kReadAt = 0.7;

/// Speed at a sample from its neighbours; 0 where one is missing.
double speed_rad_per_s(const AngleTrack& track, std::size_t i) {
  return i == 0 || i + 1 == track.samples.size() ? 0.0 : rate_rad_per_s(track, i);
}

}  // namespace

void add_look_doubts(double arm_length_px, AngleTrack& track) {
  constexpr double kLook_px = 0.6, kSpacing_rad = 0.3;
  const double u_rad = kLook_px / arm_length_px;
  track.u_place_rad = 0.5 * u_rad;
  double low_rad = 1e9, high_rad = -1e9;
  for (const AngleSample& sample : track.samples) {
    low_rad = std::min(low_rad, sample.theta_rad);
    high_rad = std::max(high_rad, sample.theta_rad);
  }
  const int bumps = 2 + int((high_rad - low_rad) / kSpacing_rad);
  for (int j = 0; j < bumps; ++j) {
    const double centre_rad =
        0.5 * (low_rad + high_rad) + (j - 0.5 * (bumps - 1)) * kSpacing_rad;
    SharedDoubt doubt{"view.look-" + std::to_string(j + 1),
                      Eigen::VectorXd(Eigen::Index(track.samples.size())),
                      "view.look"};
    for (std::size_t i = 0; i < track.samples.size(); ++i) {
      const double off = (track.samples[i].theta_rad - centre_rad) / (0.7 * kSpacing_rad);
      doubt.shape_rad(Eigen::Index(i)) = u_rad * std::exp(-0.5 * off * off);
    }
    track.doubts.push_back(doubt);
  }
}

void add_readout_doubts(const Eigen::Vector2d& size_px,
                        const Eigen::Vector2d& axle_px,
                        double arm_length_px,
                        AngleTrack& track) {
  const auto n = Eigen::Index(track.samples.size());
  SharedDoubt across{"view.readout-x", Eigen::VectorXd(n), {}};
  SharedDoubt down{"view.readout-y", Eigen::VectorXd(n), {}};
  for (Eigen::Index i = 0; i < n; ++i) {
    const double theta_rad = track.samples[std::size_t(i)].theta_rad;
    const Eigen::Vector2d at_px =
        axle_px +
        kReadAt * arm_length_px * Eigen::Vector2d(std::sin(theta_rad), std::cos(theta_rad));
    const Eigen::Vector2d lag_s =
        kReadout_s * (at_px.cwiseQuotient(size_px) - Eigen::Vector2d::Constant(0.5));
    const double omega_rad_per_s = speed_rad_per_s(track, std::size_t(i));
    across.shape_rad[i] = omega_rad_per_s * lag_s.x();
    down.shape_rad[i] = omega_rad_per_s * lag_s.y();
  }
  track.doubts.push_back(across);
  track.doubts.push_back(down);
}

void note_readout(double readout_s, double u_readout_s, Remarks& remarks) {
  constexpr double kLeast_s = 0.001, kLeast_u = 3.0;
  const double size_s = std::abs(readout_s);
  if (size_s < kLeast_s || size_s < kLeast_u * u_readout_s) return;
  remarks.push_back({"read-line-by-line",
                     Severity::Note,
                     "The camera reads a picture line by line, in " +
                         significant_text(1e3 * size_s, 2) + " ms (" +
                         significant_text(1e3 * u_readout_s, 1) +
                         " ms stated), so that a moving arm looks bent. The angles allow for "
                         "it: they are those at the middle of the picture's time."});
}

void add_shake_doubts(const CameraShake& shake, double arm_length_px, AngleTrack& track) {
  constexpr double kAside = 0.1;
  for (AngleSample& sample : track.samples) {
    const double shift_px = shake.shift_px[static_cast<std::size_t>(sample.frame)];
    sample.u_rad = std::hypot(sample.u_rad, kAside * shift_px / (kReadAt * arm_length_px));
  }
}

}  // namespace swingloss
