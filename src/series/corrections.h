// SPDX-License-Identifier: Apache-2.0
/// \file corrections.h
/// What a person put in the place of an automatic value, with when and why.
#pragma once

#include "core/uncertain.h"
#include "ranking/bar.h"
#include "swing/measurement.h"

#include <optional>
#include <string>
#include <vector>

#include <Eigen/Core>

namespace swingloss {

enum class CorrectionKind {
  Axle,       ///< place of the axle in the picture
  Rest,       ///< direction in which the arm hangs at rest
  Release,    ///< release angle
  Rise,       ///< first turning point after the blow
  Blow,       ///< which blow of the clip is this bar's
  Outcome,    ///< broken or not
  BreakType,  ///< the letter
  Section,    ///< h and b_N, from an outline on a photograph or typed
  LeaveOut,   ///< shown, not counted
  GroupBy,    ///< of the whole series: what tells groups apart
};

/// "axle", "rest", "release", "rise", "blow", "outcome", "break-type", "section", "leave-out",
/// "group-by", as the file spells it.
[[nodiscard]] const char* name_of(CorrectionKind kind);

/// One correction. Which of the values it has depends on its kind; see check_correction().
struct Correction {
  int number = 0;  ///< counts up from 1 in the order in which they were made
  CorrectionKind kind = CorrectionKind::Axle;
  std::string bar;        ///< id; empty for GroupBy
  std::string when;       ///< UTC, "2026-11-28T18:40:00Z"
  std::string why;        ///< never empty
  std::string automatic;  ///< in words, what stood there when it was made
  std::string undone;     ///< when it was taken back; empty: it stands

  /// Axle; Rest, Release, Rise: a point on the arm, marked in the picture at `t_s` [px].
  std::optional<Eigen::Vector2d> point_px;
  std::optional<double> t_s;  ///< clip time of the marked picture; Blow: of the blow
  /// Typed instead of marked. Release, Rise: from hanging rest. Rest: from the picture's
  /// vertical, positive to the right [rad].
  std::optional<double> angle_rad;
  std::optional<double> u_rad;  ///< standard uncertainty of a marked or typed angle
  std::optional<double> u_px;   ///< of a marked axle, in x and in y
  std::optional<Outcome> outcome;
  std::optional<BreakType> break_type;
  std::optional<double> thickness_mm, width_mm;  ///< h and b_N
  std::optional<double> u_mm;                    ///< of either
  std::string photo;                             ///< on which the outline was drawn; or empty
  std::vector<Eigen::Vector2d> outline_px;       ///< in the upright photograph; or empty
  std::vector<std::string> group_by;  ///< out of "material", "condition", "orientation"
};

/// A correction as a run used it.
struct AppliedCorrection {
  Correction correction;
  std::string automatic, by_hand;  ///< both in words
  std::string not_used;            ///< why it could not be used; empty: it was used
  /// Energy that the bar has without any hand; absent where there is none.
  std::optional<Uncertain> automatic_energy_J;
};

/// A kind as people say it: "release angle".
[[nodiscard]] std::string words_of(CorrectionKind kind);

/// FOLDER/results/corrections.json.
[[nodiscard]] std::string corrections_path(const std::string& folder);

/// Everything in FOLDER/results/corrections.json, undone ones too; nothing without that file.
/// \throws InputError  it cannot be read, or a correction in it lacks what its kind needs
[[nodiscard]] std::vector<Correction> read_corrections(const std::string& folder);

/// Writes the file whole or not at all.
/// \throws InputError  it cannot be written
void write_corrections(const std::string& folder, const std::vector<Correction>& corrections);

/// Those of a bar that stand: of each kind the last. \param bar  empty: of the series
[[nodiscard]] std::vector<Correction> standing(const std::vector<Correction>& corrections,
                                               const std::string& bar);

/// The standing one of a kind, or null.
[[nodiscard]] const Correction* find_correction(const std::vector<Correction>& standing,
                                                CorrectionKind kind);

/// \throws InputError  why or bar is missing; a value that the kind needs is missing or out of
///                     range (an uncertainty of zero is: nobody marks without doubt)
void check_correction(const Correction& correction, const std::string& file);

/// Format "swingloss/corrections/1" and back.
[[nodiscard]] std::string corrections_json(const std::vector<Correction>& corrections);
/// \throws InputError  as read_corrections()
[[nodiscard]] std::vector<Correction> parse_corrections(const std::string& text,
                                                        const std::string& file);
/// One correction as the desk sends it: without number and times.
/// \throws InputError  likewise
[[nodiscard]] Correction parse_correction(const std::string& text, const std::string& file);

}  // namespace swingloss
