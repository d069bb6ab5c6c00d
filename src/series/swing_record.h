// SPDX-License-Identifier: Apache-2.0
/// \file swing_record.h
/// One clip measured: what swings/ID.json holds (format "swingloss/swing/1").
#pragma once

#include "imaging/frame_source.h"
#include "swing/fit_decay.h"
#include "swing/measurement.h"
#include "tracking/track_arm.h"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// A free decay that the track shows.
struct DecayRecord {
  FreeDecay decay;              ///< its remarks are among those of the measurement
  Uncertain reduced_length_m;   ///< g / w0^2, in the track's time
  bool gravity_assumed = true;  ///< no rig was given: 9.80665 m/s2, as uncertain as the globe
};

/// Track and physics of one clip together.
struct SwingRecord {
  std::string clip;          ///< path as given
  bool typed_track = false;  ///< the angles came from a file; `arm` holds nothing else
  ArmTrack arm;
  SwingMeasurement measurement;
  std::optional<DecayRecord> decay;  ///< only where no blow was found
};

/// Everything the record has to say: the picture's remarks, then the physics'.
[[nodiscard]] Remarks all_remarks(const SwingRecord& record);

/// Why a number of the record is absent: the refusals' texts, else the first warning's, else
/// that the clip does not show it.
[[nodiscard]] std::string cause_of_absence(const SwingRecord& record);

/// Why one angle is absent: the first refusal whose code begins with one of `codes`
/// ("release"), else as above.
[[nodiscard]] std::string cause_of_absence(const SwingRecord& record,
                                           const std::vector<std::string>& codes);

/// Which way the track's angles count: +1 when they grow toward the release side, else -1.
[[nodiscard]] double direction_of(const SwingRecord& record);

/// What the view's doubts, as the motion placed them, move one sample by [rad, in the track's
/// own angles]: sum of doubt_scores times shapes. 0 where the motion did not place them.
[[nodiscard]] double doubt_shift_rad(const SwingRecord& record, std::size_t sample);

/// The angle of one sample [rad, from rest, positive on the release side], what the view moved
/// it by taken off: what the fit compares with its law. From the picture's vertical where the
/// zero is not known.
[[nodiscard]] double angle_from_rest_rad(const SwingRecord& record, std::size_t sample);

/// The fitted angle [rad, from rest, positive on the release side] at a time within the curve,
/// by straight lines between its points; nothing outside it or without one.
[[nodiscard]] std::optional<double> fitted_angle_rad(const SwingRecord& record, double t_s);

}  // namespace swingloss
