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

}  // namespace

Result<OutlineSection> size_of_outline(const std::string& photo_path,
                                       const SectionCorners& corners_px,
                                       const OutlineOptions& options) {
  const Still still = read_still(photo_path);
  CardViewOptions view;
  view.focal_35mm = still.focal_35mm;
  const Result<CardView> found = find_card(still.bgr, view);
  if (!found.ok()) return found.failure();
  const CardView& card = found.value();
  Sides sides = sides_under(card.map, corners_px);
  if (sides.thickness_mm < 0.1 || sides.width_mm < 0.1) {
    return Failure{"outline-degenerate",
                   "the four corners enclose next to nothing",
                   "mark the notch root's two ends, then the two far corners"};
  }
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
