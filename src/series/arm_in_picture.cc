// SPDX-License-Identifier: Apache-2.0
#include "series/arm_in_picture.h"

#include "series/picture_angle.h"

#include <algorithm>

namespace swingloss {
namespace {

/// Samples of a clip are in the order of its pictures.
std::optional<std::size_t> sample_of(const SwingRecord& record, int frame) {
  const auto& samples = record.arm.angles.samples;
  const auto found = std::lower_bound(
      samples.begin(), samples.end(), frame, [](const AngleSample& sample, int wanted) {
        return sample.frame < wanted;
      });
  if (found == samples.end() || found->frame != frame) return {};
  return static_cast<std::size_t>(found - samples.begin());
}

}  // namespace

/// The arm is drawn where the picture shows it: what the view moves the angle by, which the
/// law does not know, is put on again.
ArmInPicture arm_in_picture(const SwingRecord& record, int frame, double t_s, bool in_touch) {
  ArmInPicture arm;
  const auto sample = sample_of(record, frame);
  const double rate = sample ? rate_rad_per_s(record.arm.angles, *sample) : 0.0;
  const auto end_at = [&](double picture_rad) {
    return arm_end_in_picture_px(record.arm, picture_rad, rate);
  };
  if (!record.measurement.zero_rad) {
    if (sample) arm.end_px = end_at(record.arm.angles.samples[*sample].theta_rad);
    return arm;
  }
  arm.fitted_rad = fitted_angle_rad(record, t_s);
  if (sample) arm.measured_rad = angle_from_rest_rad(record, *sample);
  if (sample && in_touch) arm.fitted_rad.reset();
  const auto angle = arm.fitted_rad ? arm.fitted_rad : arm.measured_rad;
  if (!angle) return arm;
  arm.end_px = end_at(record.measurement.zero_rad->value() + direction_of(record) * *angle +
                      (sample ? doubt_shift_rad(record, *sample) : 0.0));
  return arm;
}

}  // namespace swingloss
