// SPDX-License-Identifier: Apache-2.0
/// \file rig.h
/// The instrument as its owner describes it.
#pragma once

#include "core/remark.h"
#include "swing/pendulum.h"

#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// One rig.json, checked and with its derived constants worked out. What was typed stays beside
/// what was derived from it, so that writing the rig gives back the owner's own figures.
struct Rig {
  std::string name;
  Pendulum pendulum;  ///< its sources are named rig.*, all shared
  std::optional<Uncertain> mass_kg;
  std::optional<double> capacity_J;
  Remarks remarks;

  std::string made_like;  ///< a standard's name, "ISO 179-1"; empty: none
  std::string zero;       ///< how hanging rest is found: "rest", "motion", "plumb", "picture";
                          ///< empty: not said
  std::string note;

  // As typed; absent where derived or not given.
  std::optional<Uncertain> com_m;             ///< axle to the centre of mass
  std::optional<Uncertain> moment_Nm;         ///< weighed
  std::optional<Uncertain> scale_reading_kg;  ///< of the arm held level on a scale
  std::optional<Uncertain> scale_radius_m;    ///< axle to where the scale carries it
  std::optional<Uncertain> reduced_length_m;
  std::optional<Uncertain> period_small_s;
  std::optional<Uncertain> period_amplitude_rad;  ///< the period was timed at; 0 when not given
  std::optional<Uncertain> gravity_m_per_s2;
  std::optional<double> latitude_deg, height_m;
};

/// Reads a rig file of format "swingloss/rig/1". Every quantity is { "value":, "u": } or a
/// plain number; a plain one is given the customary u of its kind (rig_fields.h) and a remark
/// `u-assumed`.
///
///   M = moment_Nm | mass_kg g com_m | scale_reading_kg g scale_radius_m   (the first given)
///   l = reduced_length_m | g (period_small_s / (2 pi period_ratio))^2
///   g = gravity_m_per_s2 | normal gravity at latitude_deg, height_m | 9.80665 with a warning
///
/// Remarks: u-assumed, gravity-assumed, moments-disagree (two ways, farther apart than 3 u),
/// com-beyond-length.
///
/// \throws InputError naming file and field: no file, not JSON, other format, unknown field
/// (with
///         the nearest known), no moment, no length, text or null in a number, negative, a unit
///         slip (with the unit meant), u missing in an object, u larger than the value
Rig read_rig(const std::string& path);

/// The same from text; `path` is for messages only.
Rig read_rig_text(const std::string& text, const std::string& path);

/// The rig as a file of that format: what was typed, and the friction (with the correlation of
/// its terms). Reading it back gives the same rig.
[[nodiscard]] std::string rig_text(const Rig& rig);

/// rig_text() to a file, whole or not at all. \throws InputError when the place refuses
void write_rig(const Rig& rig, const std::string& path);

}  // namespace swingloss
