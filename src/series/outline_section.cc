// SPDX-License-Identifier: Apache-2.0
#include "series/outline_section.h"

#include "imaging/still.h"
#include "surface/size_section.h"
#include "view/card_view.h"

#include <cmath>

namespace swingloss {
namespace {

constexpr double kRulerReading_mm = 0.15;  ///< as SurfaceOptions::u_ruler_m

struct Sides {
  double thickness_mm = 0.0, width_mm = 0.0;
};

Sides sides_under(const CardMap& map, const SectionCorners& corners_px) {
  std::array<Eigen::Vector2d, 4> at_m;
  for (std::size_t i = 0; i < at_m.size(); ++i) at_m[i] = map.plane_of(corners_px[i]);
  const auto side_mm = [&](std::size_t a, std::size_t b) {
    return 1e3 * (at_m[a] - at_m[b]).norm();
  };
  return {0.5 * (side_mm(0, 1) + side_mm(2, 3)), 0.5 * (side_mm(1, 2) + side_mm(3, 0))};
}

/// Largest of what the card's fit leaves open in either side.
double u_of_card_mm(const CardView& card, const SectionCorners& corners_px, const Sides& best) {
  double thickness_squared = 0.0;
  double width_squared = 0.0;
  for (const CardMap& off : card.one_u_off) {
    const Sides sides = sides_under(off, corners_px);
    thickness_squared += std::pow(sides.thickness_mm - best.thickness_mm, 2);
    width_squared += std::pow(sides.width_mm - best.width_mm, 2);
  }
  return std::sqrt(std::max(thickness_squared, width_squared));
}

Failure no_area() {
  return {"outline-degenerate",
          "the four corners enclose next to nothing",
          "mark the notch root's two ends, then the two far corners"};
}

/// Of two lengths, by how much of their mean they differ.
double unlike(double a, double b) { return 2.0 * std::abs(a - b) / (a + b); }

/// The side that is not known, by the one that is.
Result<OutlineSection> size_by_known(const SectionCorners& px,
                                     const KnownSide& known,
                                     double u_px) {
  constexpr double kNotSquare = 0.01;
  constexpr double kMostUnlike = 0.10;
  const auto side = [&](std::size_t a, std::size_t b) { return (px[a] - px[b]).norm(); };
  const double along = 0.5 * (side(0, 1) + side(2, 3));
  const double across = 0.5 * (side(1, 2) + side(3, 0));
  if (along < 5.0 * u_px || across < 5.0 * u_px) return no_area();
  if (unlike(side(0, 1), side(2, 3)) > kMostUnlike ||
      unlike(side(1, 2), side(3, 0)) > kMostUnlike) {
    return Failure{
        "outline-aslant",
        "opposite sides differ by more than a tenth, so the photograph was not taken "
        "square to the face, or a corner is off",
        "mark the corners again, or photograph the face from straight above"};
  }
  const double known_px = known.is_thickness ? along : across;
  const double other_px = known.is_thickness ? across : along;
  const double other_mm = known.length_mm * other_px / known_px;
  // Each side is the mean of two, each between two corners: the marks' doubt along it is u.
  const double marks = std::hypot(u_px / known_px, u_px / other_px);
  const double relative = std::hypot(marks, known.u_mm / known.length_mm, kNotSquare);
  const double u_mm = std::max(known.u_mm, relative * other_mm);
  return known.is_thickness ? OutlineSection{known.length_mm, other_mm, u_mm}
                            : OutlineSection{other_mm, known.length_mm, u_mm};
}

}  // namespace

Result<OutlineSection> size_of_outline(const std::string& photo_path,
                                       const SectionCorners& corners_px,
                                       const OutlineOptions& options) {
  if (options.known) return size_by_known(corners_px, *options.known, options.u_px);
  const Still still = read_still(photo_path);
  CardViewOptions view;
  view.focal_35mm = still.focal_35mm;
  const Result<CardView> found = find_card(still.bgr, view);
  if (!found.ok()) return found.failure();
  const CardView& card = found.value();
  Sides sides = sides_under(card.map, corners_px);
  if (sides.thickness_mm < 0.1 || sides.width_mm < 0.1) return no_area();
  ScaleFacts print;
  if (options.ruler_mm) {
    print.print_ratio = *options.ruler_mm / (1e3 * card.card.ruler_m);
    print.u_print_ratio = kRulerReading_mm / (1e3 * card.card.ruler_m);
  }
  // Each side is the mean of two, each between two corners: the marks' doubt along it is u.
  const double u_mark_mm = 1e3 * options.u_px / card.px_per_m;
  const double u_card_mm = u_of_card_mm(card, corners_px, sides);
  const double larger_mm = std::max(sides.thickness_mm, sides.width_mm);
  const double u_mm = std::hypot(u_mark_mm, u_card_mm, print.u_print_ratio * larger_mm);
  return OutlineSection{
      print.print_ratio * sides.thickness_mm, print.print_ratio * sides.width_mm, u_mm};
}

}  // namespace swingloss
