// SPDX-License-Identifier: Apache-2.0
/// \file conditioning.h
/// Whether bars had come to rest with their surroundings when they were broken.
#pragma once

#include "core/remark.h"
#include "ranking/approach.h"

#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// Masses of one bar or one batch over time. Any unit of mass, the same throughout: results are
/// relative or in that unit.
struct MassRecord {
  std::string name;             ///< of the bar or batch
  std::vector<Reading> masses;  ///< t_s from the first weighing, rising
  std::optional<double>
      dry_mass;  ///< where it is known; else the first reading counts as zero uptake
  std::optional<double> thickness_m;  ///< of the plate, for the diffusion constant
};

struct ConditioningOptions {
  /// Settled when the mass still to come is at most this share of the mass. 0.1 %: common
  /// practice for "constant mass", no source.
  double tolerance = 0.001;
};

enum class Settled { Yes, No, Unknown };

/// "yes", "no", "unknown", as files spell it.
[[nodiscard]] const char* name_of(Settled settled);

/// What a record says.
struct Conditioning {
  std::string name;
  std::vector<double> uptake;  ///< one a reading, relative to dry (or first) mass
  std::optional<ApproachFit> plate,
      exponential;                     ///< of the masses, as far as they could be fitted
  std::optional<ApproachLaw> better;   ///< law with the smaller sum of squares
  std::optional<double> final_uptake;  ///< by the better law
  std::optional<double> u_final_uptake;
  std::optional<double> reached;  ///< share of the final change at the last reading
  std::optional<double>
      diffusion_m2_per_s;  ///< D = thickness^2 / (pi^2 tau), by the plate law [ISO62]
  Settled settled = Settled::Unknown;  ///< at the last reading
  std::optional<double> settles_at_s;  ///< time at which the rest is within the tolerance
  double last_reading_s = 0.0;
  std::optional<double> to_go_s;  ///< from the last reading; 0 when settled
  Remarks remarks;
};

/// Uptake, both laws, and whether the record has settled.
///
/// Without a fit (too few readings, or still climbing as at the start) the last two readings
/// decide: a change within the tolerance over a fifth of the record or more counts as settled,
/// a larger one as not settled. It has then settled from the first reading after which none
/// lies farther than the tolerance from the last.
/// \throws InputError  a mass that is not above zero, times that do not rise, no reading
[[nodiscard]] Conditioning judge_conditioning(const MassRecord& record,
                                              const ConditioningOptions& options = {});

/// Whether a bar of this record broken at `tested_s` had settled then.
[[nodiscard]] Settled settled_at(const Conditioning& conditioning, double tested_s);

/// Sizes of one bar over time against what was drawn.
struct SizeRecord {
  std::string name;
  double design_m = 0.0;
  std::vector<Reading> sizes;  ///< value in m
};

/// Relative departure from the drawing at each reading: below zero shrunk, above swollen.
/// \throws InputError  design or a size not above zero, no reading
[[nodiscard]] std::vector<double> size_changes(const SizeRecord& record);

}  // namespace swingloss
