// SPDX-License-Identifier: Apache-2.0
#include "surface/seen_marks.h"

#include "core/median.h"

#include <algorithm>
#include <cmath>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

using Eigen::Vector2d;

constexpr std::size_t kMostSpecks = 400;
constexpr std::size_t kMostGlints = 60;
constexpr int kBins = 24;             // along the far side
constexpr double kEnds = 0.12;        // of the far side's length, left out at either end
constexpr double kLeastLip = 0.02;    // of the way from notch to far side
constexpr double kLipOverEdge = 3.0;  // times the unevenness of the opposite side

/// A few of the even lines across the middle of the patch, clipped to it.
std::vector<Polygon> lines_on(const PatchPlace& place, const Appearance& look) {
  std::vector<Polygon> lines;
  const double pitch = look.line_pitch * kPatch_px;
  if (look.line_strength < kClearLines || pitch < 2.0) return lines;
  const Vector2d middle(place.patch_px.width / 2.0, place.patch_px.height / 2.0);
  const Vector2d along(std::sin(look.line_turn_rad), std::cos(look.line_turn_rad));
  const Vector2d across(along.y(), -along.x());
  const double half = 0.35 * std::min(place.patch_px.width, place.patch_px.height);
  for (int k = -3; k <= 3; ++k) {
    const Vector2d foot = middle + k * pitch * across;
    const double left = half * half - k * pitch * k * pitch;
    if (left <= 0.0) continue;
    const Vector2d a = foot - std::sqrt(left) * along;
    const Vector2d b = foot + std::sqrt(left) * along;
    lines.push_back({place.photo_px(a.x(), a.y()), place.photo_px(b.x(), b.y())});
  }
  return lines;
}

/// How far an outline reaches beyond a straight side, bin by bin along it; from its median.
std::vector<double> reach_beyond(const Polygon& outline, const SideLine& side) {
  const Vector2d along = (side.to_px - side.from_px).normalized();
  const Vector2d outward(along.y(), -along.x());
  const double length = (side.to_px - side.from_px).norm();
  std::vector<double> reach(kBins, -1e9);
  for (const Vector2d& p : outline) {
    const double s = (p - side.from_px).dot(along) / length;
    if (s < kEnds || s >= 1.0 - kEnds) continue;
    const auto bin = std::min(std::size_t(kBins - 1),
                              std::size_t((s - kEnds) / (1.0 - 2.0 * kEnds) * kBins));
    reach[bin] = std::max(reach[bin], (p - side.from_px).dot(outward));
  }
  reach.erase(std::remove(reach.begin(), reach.end(), -1e9), reach.end());
  return reach;
}

/// The high places of a side's outline less its low ones.
double unevenness(std::vector<double> reach) {
  if (reach.size() < 8) return 0.0;
  std::sort(reach.begin(), reach.end());
  return reach[reach.size() * 9 / 10] - reach[reach.size() / 6];
}

/// What lies beyond the low places of the far side.
Polygon lip_outline(const PlanePicture& plane,
                    const Polygon& outline,
                    const SideLine& side,
                    double level) {
  const Vector2d along = (side.to_px - side.from_px).normalized();
  const Vector2d outward(along.y(), -along.x());
  const double length = (side.to_px - side.from_px).norm();
  std::vector<Vector2d> points;
  for (const Vector2d& p : outline) {
    const double s = (p - side.from_px).dot(along);
    if (s < kEnds * length || s > (1.0 - kEnds) * length) continue;
    if ((p - side.from_px).dot(outward) > level) points.push_back(p);
  }
  std::sort(points.begin(), points.end(), [&](const Vector2d& a, const Vector2d& b) {
    return (a - side.from_px).dot(along) < (b - side.from_px).dot(along);
  });
  Polygon lip;
  if (points.empty()) return lip;
  const auto foot = [&](const Vector2d& p) {
    return Vector2d(side.from_px + (p - side.from_px).dot(along) * along + level * outward);
  };
  lip.push_back(plane.photo_px(foot(points.front())));
  for (const Vector2d& p : points) lip.push_back(plane.photo_px(p));
  lip.push_back(plane.photo_px(foot(points.back())));
  return lip;
}

}  // namespace

Vector2d PatchPlace::photo_px(double x, double y) const {
  const double s = inset + (1.0 - 2.0 * inset) * x / (patch_px.width - 1);
  const double t = inset + (1.0 - 2.0 * inset) * y / (patch_px.height - 1);
  return plane.photo_px((1.0 - t) * ((1.0 - s) * corners[0] + s * corners[1]) +
                        t * ((1.0 - s) * corners[3] + s * corners[2]));
}

std::vector<Polygon> outlines_of(const PatchPlace& place,
                                 const cv::Mat& mask,
                                 double parts_of_face) {
  std::vector<Polygon> out;
  if (mask.empty()) return out;
  std::vector<std::vector<cv::Point>> contours;
  cv::findContours(mask, contours, cv::RETR_LIST, cv::CHAIN_APPROX_TC89_L1);
  const double smallest_px = double(mask.total()) / parts_of_face;
  for (const auto& contour : contours) {
    if (cv::contourArea(contour) < smallest_px) continue;
    Polygon part;
    for (const cv::Point& p : contour) part.push_back(place.photo_px(p.x, p.y));
    out.push_back(part);
  }
  return out;
}

SeenMarks marks_of(const PatchPlace& place, const FacePatch& patch, const Appearance& look) {
  SeenMarks marks;
  marks.glints_px = outlines_of(place, glint_mask(patch.brightness), 3000.0);
  if (marks.glints_px.size() > kMostGlints) marks.glints_px.resize(kMostGlints);
  std::vector<cv::Point> specks;
  cv::findNonZero(speck_mask(patch.brightness), specks);
  if (specks.size() > kMostSpecks) specks.resize(kMostSpecks);
  for (const cv::Point& p : specks) marks.specks_px.push_back(place.photo_px(p.x, p.y));
  marks.lines_px = lines_on(place, look);
  marks.tile_roughness = tiles_of(patch.brightness).roughness;
  return marks;
}

Lip lip_of(const FaceArea& area, const SectionShape& shape) {
  Lip lip;
  if (!shape.notch_found || shape.joined) return lip;
  std::vector<double> far = reach_beyond(area.outline, shape.sides[2]);
  const std::vector<double> near = reach_beyond(area.outline, shape.sides[0]);
  const double way = (shape.sides[2].middle_px - shape.sides[0].middle_px).norm();
  const double reach_px = unevenness(far);
  // A pixel of the mask's own steps and dust at the edge is no lip.
  const double edge = std::max(1.0, unevenness(near));
  if (reach_px < kLeastLip * way || reach_px < kLipOverEdge * edge) return lip;
  std::sort(far.begin(), far.end());
  const double foot_px = far[far.size() / 6];
  // The outline of the mask lies a part of a pixel off the sides; as much at the notched one.
  return {reach_px, foot_px - median_of(near), foot_px};
}

PartingTraits parting_of(const PlanePicture& plane,
                         const FaceArea& area,
                         const SectionShape& shape,
                         const Lip& lip,
                         SeenMarks& marks) {
  PartingTraits traits;
  traits.joined = shape.joined;
  for (const std::size_t side : {std::size_t(1), std::size_t(3)}) {
    const SideLine& line = shape.sides[side];
    const Vector2d along = (line.to_px - line.from_px).normalized();
    const Vector2d outward(along.y(), -along.x());
    Polygon seen;
    for (const auto& p : line.points) {
      seen.push_back(plane.photo_px(line.middle_px + p.along_px * along + p.off_px * outward));
    }
    marks.sides_px.push_back(seen);
  }
  if (lip.reach_px <= 0.0) return traits;
  traits.lip = lip.reach_px / (shape.sides[2].middle_px - shape.sides[0].middle_px).norm();
  marks.lip_px =
      lip_outline(plane, area.outline, shape.sides[2], lip.mask_foot_px + 0.3 * lip.reach_px);
  return traits;
}

}  // namespace swingloss
