// SPDX-License-Identifier: Apache-2.0
#include "surface/layer_course.h"

#include "core/angle.h"
#include "core/number_text.h"
#include "surface/seen_marks.h"

#include <optional>

namespace swingloss {
namespace {

constexpr double kWidestLayer_m = 0.35e-3;
constexpr double kAlong_deg = 25.0;   // lines nearer to the crack's way run along it
constexpr double kSquare_deg = 65.0;  // and beyond this, square to it

enum class LineWay { Along, Aslant, Square };

LineWay way_of(const Appearance& look) {
  const double deg = Angle::from_rad(look.line_angle_rad).deg();
  if (deg < kAlong_deg) return LineWay::Along;
  return deg > kSquare_deg ? LineWay::Square : LineWay::Aslant;
}

std::string lines_words(const FaceMeasures& face, LineWay way) {
  std::string text = "even lines run ";
  text += way == LineWay::Along    ? "along the crack's way"
          : way == LineWay::Square ? "square to the crack's way"
                                   : "aslant to the crack's way";
  if (face.appearance.line_pitch_m) {
    text += ", " + fixed_text(1e3 * *face.appearance.line_pitch_m, 2) + " mm apart";
  }
  return text;
}

LayerReading without_lines(const std::string& orientation) {
  if (orientation == "upright") {
    return {CrackCourse::BetweenLayers,
            false,
            "the face shows no even lines and the bar was printed upright, so that its layers "
            "lie in the plane of the break"};
  }
  return {CrackCourse::CannotTell, false, "the face shows no even lines"};
}

LayerReading upright(const FaceMeasures& face, const std::string& lines) {
  const auto& pitch_m = face.appearance.line_pitch_m;
  if (pitch_m && *pitch_m < kWidestLayer_m) {
    return {CrackCourse::CannotTell,
            false,
            lines + ", as near as layers, yet the bar was printed upright"};
  }
  return {CrackCourse::BetweenLayers,
          pitch_m.has_value(),
          lines + ", as the strands of one layer do, and the bar was printed upright"};
}

}  // namespace

const char* name_of(CrackCourse course) {
  switch (course) {
    case CrackCourse::BetweenLayers:
      return "between layers";
    case CrackCourse::AcrossLayers:
      return "across layers";
    case CrackCourse::CannotTell:
      return "cannot tell";
  }
  return "";
}

LayerReading read_layers(const FaceMeasures& face, const std::string& orientation) {
  const Appearance& look = face.appearance;
  if (look.line_strength < kClearLines) return without_lines(orientation);
  const LineWay way = way_of(look);
  const std::string lines = lines_words(face, way);
  if (!face.notch_found) {
    return {CrackCourse::CannotTell,
            false,
            "even lines are seen, but without the root of the notch the crack's way is not "
            "known"};
  }
  if (orientation == "upright") return upright(face, lines);
  if (look.line_pitch_m && *look.line_pitch_m > kWidestLayer_m) {
    return {CrackCourse::CannotTell,
            false,
            lines + ": they may be the strands of one layer as well as layers"};
  }
  if (way == LineWay::Aslant) {
    return {CrackCourse::CannotTell, false, lines + ", as no layers of a bar do"};
  }
  std::optional<LineWay> printed;
  if (orientation == "flat") printed = LineWay::Along;
  if (orientation == "on-edge") printed = LineWay::Square;
  if (printed && *printed != way) {
    return {CrackCourse::CannotTell,
            false,
            lines + ", which is not how the layers of a bar printed " + orientation + " lie"};
  }
  const std::string met = way == LineWay::Along ? "it cut all layers at once, edge on"
                                                : "it went from one layer into the next";
  return {CrackCourse::AcrossLayers,
          printed.has_value(),
          lines + ": " + met + (printed ? ", as the bar was printed " + orientation : "")};
}

}  // namespace swingloss
