// SPDX-License-Identifier: Apache-2.0
#include "surface/size_section.h"

#include "core/expects.h"
#include "core/number_text.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

using Eigen::Vector2d;

constexpr double kMostWall_m = 0.3e-3;
/// How far blur, rounded edges and the light's fall put an edge, beside a fixed 15 um of a
/// broken or sawn edge itself. Both edges of a length go the same way: outward or inward.
constexpr double kEdge_px = 0.08, kEdge_m = 7e-6;

/// Two places of the photograph whose distance is asked for.
struct Span {
  Vector2d a_px, b_px;
};

Span span_of(const PlanePicture& plane, const Vector2d& a, const Vector2d& b) {
  return {plane.photo_px(a), plane.photo_px(b)};
}

double length_m(const CardMap& map, const Span& span) {
  return (map.plane_of(span.a_px) - map.plane_of(span.b_px)).norm();
}

/// The maps under which a length is worked out again, each one standard uncertainty off.
struct Maps {
  CardMap face;
  std::vector<CardMap> pose;
  CardMap height, focal;
};

Maps maps_of(const CardView& card, const ScaleFacts& facts) {
  const auto up = [&](const CardMap& map, double height_m, double focal_ideal) {
    return height_m == 0.0 ? map : map.raised(height_m, focal_ideal);
  };
  Maps maps;
  maps.face = up(card.map, facts.face_height_m, card.focal_ideal);
  for (const CardMap& off : card.one_u_off) {
    maps.pose.push_back(up(off, facts.face_height_m, card.focal_ideal));
  }
  maps.height = up(card.map, facts.face_height_m + facts.u_face_height_m, card.focal_ideal);
  maps.focal =
      up(card.map, facts.face_height_m, card.focal_ideal * (1.0 + card.u_focal_relative));
  return maps;
}

Uncertain plane_length(const Maps& maps, const Span& span, const ScaleFacts& facts) {
  const double length = length_m(maps.face, span);
  Uncertain out = Uncertain::exact(length);
  const auto add = [&](double signed_u, const std::string& source, SourceKind kind) {
    const Uncertain off = Uncertain::from(0.0, 1.0, source, kind);
    out = out + signed_u * off;
  };
  for (std::size_t k = 0; k < maps.pose.size(); ++k) {
    add(length_m(maps.pose[k], span) - length,
        "card.pose[" + std::to_string(k + 1) + "]",
        SourceKind::Own);
  }
  add(length_m(maps.height, span) - length, "face-height", SourceKind::Own);
  add(length_m(maps.focal, span) - length, "camera.focal", SourceKind::Shared);
  return out * Uncertain::from(
                   facts.print_ratio, facts.u_print_ratio, "card.print", SourceKind::Shared);
}

Vector2d middle(const Vector2d& a, const Vector2d& b) { return (a + b) / 2.0; }

/// How much of the bar's side is seen beside the face, from the place of the lens.
double wall_m(const CardView& card, const Vector2d& place_m, double height_m) {
  const double away = (place_m - card.pose.foot_m).norm();
  return height_m * away / std::max(1e-3, card.pose.distance_m - height_m);
}

}  // namespace

Result<SectionSize> size_section(const PlanePicture& plane,
                                 const SectionShape& shape,
                                 const ScaleFacts& facts,
                                 const Lip& lip) {
  expects(plane.card.has_value(), "size_section: wants a card");
  const CardView& card = *plane.card;
  const auto& q = shape.broken_px;
  const Vector2d centre = (q[0] + q[1] + q[2] + q[3]) / 4.0;
  const double wall = wall_m(card, plane.place_of(centre), std::abs(facts.face_height_m));
  if (wall > kMostWall_m) {
    return Failure{"face-aslant",
                   "the face stands " + fixed_text(1e3 * facts.face_height_m, 1) +
                       " mm above the card and is seen from aside: " +
                       fixed_text(1e3 * wall, 2) + " mm of the bar's side would count as face",
                   "Raise the card until it is level with the face, or put the camera straight "
                   "above it."};
  }
  const Maps maps = maps_of(card, facts);
  const double px_m = 1.0 / card.px_per_m;
  const double edge_m = 2.0 * std::hypot(kEdge_px * px_m, kEdge_m) + wall / std::sqrt(3.0);
  const auto own = [](double u_m, const std::string& source) {
    return Uncertain::from(0.0, u_m, source, SourceKind::Own);
  };
  const Uncertain edge = own(edge_m, "edge");
  const double to_m = 1.0 / plane.px_per_m;
  const auto& s = shape.sides;

  SectionSize size;
  size.thickness_m =
      plane_length(maps, span_of(plane, middle(q[0], q[3]), middle(q[1], q[2])), facts) + edge +
      own(to_m * std::hypot(s[1].u_px, s[3].u_px), "sides.thickness");
  Uncertain far = own(to_m * s[2].u_px, "sides.far");
  if (lip.reach_px > 0.0) {
    const double doubt_px = std::max(std::abs(lip.foot_px), 0.25 * lip.reach_px);
    far = far + Uncertain::exact(to_m * lip.foot_px) +
          own(to_m * doubt_px / std::sqrt(3.0), "sides.lip");
  }
  size.whole_width_m =
      plane_length(
          maps,
          span_of(plane, middle(s[0].from_px, s[0].to_px), middle(s[2].from_px, s[2].to_px)),
          facts) +
      edge + far + own(to_m * s[0].u_px, "sides.near");
  size.width_m = size.whole_width_m;
  if (shape.notch_found) {
    size.width_m =
        plane_length(maps, span_of(plane, middle(q[0], q[1]), middle(q[2], q[3])), facts) +
        0.5 * edge + far + own(to_m * shape.u_notch_depth_px, "notch-root");
  }
  if (!shape.notch_found && size.thickness_m.value() > size.width_m.value()) {
    std::swap(size.thickness_m, size.width_m);
    size.whole_width_m = size.width_m;
  }
  size.area_m2 = size.thickness_m * size.width_m;
  return size;
}

}  // namespace swingloss
