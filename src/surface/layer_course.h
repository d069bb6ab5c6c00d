// SPDX-License-Identifier: Apache-2.0
/// \file layer_course.h
/// Whether a crack ran between the layers of a printed bar or across them.
#pragma once

#include "surface/measures.h"

#include <string>

namespace swingloss {

enum class CrackCourse { BetweenLayers, AcrossLayers, CannotTell };

/// "between layers", "across layers", "cannot tell", as files and people spell it.
[[nodiscard]] const char* name_of(CrackCourse course);

struct LayerReading {
  CrackCourse course = CrackCourse::CannotTell;
  /// Two signs agree: the lines on the face and the orientation recorded for the bar.
  bool sure = false;
  std::string reason;  ///< a sentence without its full stop
};

/// From the even lines on a face, their way against the crack's (from notch to far side), their
/// distance, and how the bar was printed.
///
/// A face that cuts layers shows their edges as even lines: along the crack's way where the bar
/// was printed flat (its layers stacked along the notch), square to it where it was printed on
/// edge (stacked from notch to far side). A bar printed upright breaks within the plane of its
/// layers: then lines are the strands of one layer, wider apart than layers are thick
/// (0.4 mm is a usual strand, 0.1 to 0.3 mm a usual layer).
///
/// \param orientation  as specimens.csv has it: "flat", "on-edge", "upright"; others and empty
///   say nothing
[[nodiscard]] LayerReading read_layers(const FaceMeasures& face,
                                       const std::string& orientation = "");

}  // namespace swingloss
