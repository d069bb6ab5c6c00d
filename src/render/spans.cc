// SPDX-License-Identifier: Apache-2.0
#include "render/spans.h"

#include <array>

namespace swingloss::render {
namespace {

constexpr double kNearest_m = 0.05;
constexpr double kBentPiece_px = 20.0;  ///< longest straight piece of an edge that a lens bends
/// Faces are cut where they leave the field by this, so that neither a lens term nor a place
/// behind the camera can fold them back into the picture.
constexpr double kFieldMargin = 1.5;

/// Sides of what the camera can see, as n.p >= offset in camera axes.
struct Side {
  cv::Vec3d normal;
  double offset = 0.0;
  [[nodiscard]] double inside(const cv::Vec3d& p) const { return normal.dot(p) - offset; }
};

std::array<Side, 5> field_of(const Pinhole& camera) {
  const double x = kFieldMargin * 0.5 * camera.width_px / camera.focal_px.x;
  const double y = kFieldMargin * 0.5 * camera.height_px / camera.focal_px.y;
  return {Side{{0, 0, 1}, kNearest_m},
          Side{{1, 0, x}},
          Side{{-1, 0, x}},
          Side{{0, 1, y}},
          Side{{0, -1, y}}};
}

/// What of a convex outline is on the inner side (Sutherland and Hodgman's rule).
std::vector<cv::Vec3d> cut_by(const Side& side, const std::vector<cv::Vec3d>& corners) {
  std::vector<cv::Vec3d> kept;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const cv::Vec3d& a = corners[i];
    const cv::Vec3d& b = corners[(i + 1) % corners.size()];
    const double at_a = side.inside(a);
    const double at_b = side.inside(b);
    if (at_a >= 0.0) kept.push_back(a);
    if ((at_a >= 0.0) != (at_b >= 0.0)) kept.push_back(a + at_a / (at_a - at_b) * (b - a));
  }
  return kept;
}

cv::Point2d pixel_in(const Pinhole& camera, const cv::Vec3d& p) {
  const double xn = p[0] / p[2];
  const double yn = p[1] / p[2];
  const double stretch = 1.0 + camera.k1 * (xn * xn + yn * yn);
  return {camera.centre_px.x + camera.focal_px.x * stretch * xn,
          camera.centre_px.y + camera.focal_px.y * stretch * yn};
}

Outline bent(const Pinhole& camera, const std::vector<cv::Vec3d>& corners) {
  Outline outline;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const cv::Vec3d& a = corners[i];
    const cv::Vec3d& b = corners[(i + 1) % corners.size()];
    const cv::Point2d way = pixel_in(camera, b) - pixel_in(camera, a);
    const int pieces = 1 + static_cast<int>(std::hypot(way.x, way.y) / kBentPiece_px);
    for (int piece = 0; piece < pieces; ++piece) {
      outline.push_back(pixel_in(camera, a + static_cast<double>(piece) / pieces * (b - a)));
    }
  }
  return outline;
}

}  // namespace

Outline project_outline(const Pinhole& camera, const std::vector<cv::Vec3d>& corners_m) {
  std::vector<cv::Vec3d> corners;
  corners.reserve(corners_m.size());
  for (const cv::Vec3d& corner : corners_m) corners.push_back(camera.in_camera(corner));
  for (const Side& side : field_of(camera)) {
    const auto outside = [&side](const cv::Vec3d& p) { return side.inside(p) < 0.0; };
    if (std::any_of(corners.begin(), corners.end(), outside)) corners = cut_by(side, corners);
  }
  if (corners.size() < 3) return {};
  if (camera.k1 != 0.0) return bent(camera, corners);
  Outline outline;
  outline.reserve(corners.size());
  for (const cv::Vec3d& corner : corners) outline.push_back(pixel_in(camera, corner));
  return outline;
}

RowCuts::RowCuts(const Outline& outline_px, const SampleGrid& grid)
    : outline_px_(outline_px), grid_(grid) {
  if (outline_px.size() < 3) return;
  double top = grid.row_of(outline_px[0].y);
  double bottom = top;
  for (const cv::Point2d& p : outline_px) {
    top = std::min(top, grid.row_of(p.y));
    bottom = std::max(bottom, grid.row_of(p.y));
  }
  if (!(bottom >= grid.first_row) || !(top < grid.end_row)) return;
  first_row_ = std::max(grid.first_row, static_cast<int>(std::ceil(std::max(top, -1.0))));
  end_row_ = static_cast<int>(std::min<double>(grid.end_row, std::ceil(bottom)));
}

const std::vector<double>& RowCuts::at(int row) {
  crossings_.clear();
  cv::Point2d a = outline_px_.back();
  for (const cv::Point2d& b : outline_px_) {
    const double ay = grid_.row_of(a.y);
    const double by = grid_.row_of(b.y);
    if ((ay <= row) != (by <= row)) {
      // Always from the upper end, so that two outlines sharing an edge agree to the last bit.
      const bool down = ay < by;
      const double x0 = grid_.column_of(down ? a.x : b.x), y0 = down ? ay : by;
      const double x1 = grid_.column_of(down ? b.x : a.x), y1 = down ? by : ay;
      crossings_.push_back(x0 + (x1 - x0) * ((row - y0) / (y1 - y0)));
    }
    a = b;
  }
  std::sort(crossings_.begin(), crossings_.end());
  return crossings_;
}

InverseDepth inverse_depth_of(const Pinhole& camera,
                              const cv::Vec3d& place_m,
                              const cv::Vec3d& normal) {
  // A ray (xn, yn, 1) meets the plane n.p = d at depth d / n.(xn, yn, 1).
  const cv::Vec3d n = camera.camera_from_room * normal;
  const double d = n.dot(camera.in_camera(place_m));
  InverseDepth result;
  result.by_x = n[0] / (d * camera.focal_px.x);
  result.by_y = n[1] / (d * camera.focal_px.y);
  result.at_origin =
      n[2] / d - result.by_x * camera.centre_px.x - result.by_y * camera.centre_px.y;
  return result;
}

}  // namespace swingloss::render
