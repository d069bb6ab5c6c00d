// SPDX-License-Identifier: Apache-2.0
/// \file look_at_faces.h
/// The photographs of a series' bars: measured, kept, and held against caliper and energy.
#pragma once

#include "series/reuse.h"
#include "series/series_plan.h"
#include "series/series_result.h"
#include "surface/layer_course.h"
#include "surface/suggest_break.h"

namespace swingloss {

struct FaceWork {
  Reuse reuse = Reuse::Unchanged;
  int jobs = 0;     ///< bars at a time; 0 takes the machine's threads
  SeriesPart part;  ///< bars of other parts are passed over
};

/// Measures the photographs that the bars name, by the model that comes with the program, and
/// puts each bar's record into its result. Finished records are stored in
/// FOLDER/results/surfaces/ID.json and used again while photographs, ruler and program are the
/// same. A photograph that several bars name shows them all: its faces, or pairs of halves, go
/// to the bars in the order of the table; where their numbers do not fit, or neighbours are no
/// halves of one bar, none is given to any (`faces-not-dealt`). A photograph that cannot be
/// used is a refusal in the record and never a bar's problem: its energy stands without it.
///
/// Remarks of a bar: `section-disagrees` (a typed size and the photograph's differ by more than
/// three of their combined u and by 0.1 mm; the typed one is used),
/// `break-type-from-photograph` (nothing was typed, and the faces speak for C or H: that letter
/// is used), `break-type-differs` (a letter was typed or filmed and the faces speak for
/// another: it stands). Where only stored records are wanted, a bar without one gets the
/// problem kNotMeasuredYet (bar_problem.h).
void look_at_faces(const SeriesPlan& plan, const FaceWork& work, SeriesResult& result);

/// Remarks `look-and-energy` on bars of a group whose look and energy speak against one
/// another: looks ductile and took less than every bar of the group that looks brittle, or the
/// reverse, with two bars of the other look at least. The look never changes an energy.
void hold_look_against_energy(SeriesResult& result);

/// The break type that a bar's faces speak for; see suggest_break().
[[nodiscard]] BreakGuess break_guess_of(const SurfaceRecord& record);

/// The face that speaks for a bar: of the faces with a verdict the one with the most certain;
/// null where there is none.
[[nodiscard]] const FaceMeasures* speaking_face(const SurfaceRecord& record);

/// Whether the crack ran between layers or across them: by the face that speaks for the bar,
/// else by the first. \param bar  with a surface
[[nodiscard]] LayerReading layers_of_bar(const BarResult& bar);

}  // namespace swingloss
