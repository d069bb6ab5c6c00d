// SPDX-License-Identifier: Apache-2.0
#include "surface/fit_section.h"

#include "core/median.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include <Eigen/LU>
#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

using Eigen::Vector2d;

constexpr int kPlaces = 120;      // along a side
constexpr double kCorner = 0.15;  // of a side's length, left to the corner

Vector2d outward_of(const Vector2d& along) { return {along.y(), -along.x()}; }

struct Edge {
  double place = 0.0;
  bool found = false;
};

/// Where light changes from bar to ground along a line outward: the crossing of half way
/// between the mean on either side, nearest to the start. Light is linear, so blur moves
/// nothing.
Edge edge_along(const cv::Mat& linear,
                const Vector2d& at,
                const Vector2d& outward,
                double reach_px) {
  constexpr int kSteps = 64;
  std::vector<cv::Vec3f> light;
  for (int i = 0; i <= kSteps; ++i) {
    light.push_back(light_at(linear, at + outward * (reach_px * (2.0 * i / kSteps - 1.0))));
  }
  cv::Vec3f bar(0, 0, 0);
  cv::Vec3f ground(0, 0, 0);
  constexpr int kEnd = kSteps / 4;
  for (int i = 0; i < kEnd; ++i) {
    bar += light[std::size_t(i)] * (1.0F / kEnd);
    ground += light[std::size_t(kSteps - i)] * (1.0F / kEnd);
  }
  const cv::Vec3f step = bar - ground;
  const float square = step.dot(step);
  if (square < 1e-6F) return {};
  Edge best;
  for (int i = 0; i < kSteps; ++i) {
    const double a = double((light[std::size_t(i)] - ground).dot(step) / square) - 0.5;
    const double b = double((light[std::size_t(i) + 1] - ground).dot(step) / square) - 0.5;
    if (!(a > 0.0 && b <= 0.0)) continue;
    const double place = reach_px * (2.0 * (i + a / (a - b)) / kSteps - 1.0);
    if (!best.found || std::abs(place) < std::abs(best.place)) best = {place, true};
  }
  return best;
}

/// Straight line through points of one side: repeated weighting after [Huber1964], the ends
/// left out.
struct Line {
  double offset = 0.0, slope = 0.0, u = 0.0;
};

std::optional<Line> line_through(const std::vector<SideLine::Point>& points,
                                 double half_length) {
  std::vector<SideLine::Point> kept;
  for (const auto& p : points) {
    if (std::abs(p.along_px) < half_length * (1.0 - 2.0 * kCorner)) kept.push_back(p);
  }
  if (kept.size() < 12) return {};
  Line line;
  std::vector<double> offs;
  offs.reserve(kept.size());
  for (const auto& p : kept) offs.push_back(p.off_px);
  line.offset = median_of(offs);
  double scatter = 1.0;
  for (int round = 0; round < 12; ++round) {
    std::vector<double> away;
    away.reserve(kept.size());
    for (const auto& p : kept) {
      away.push_back(std::abs(p.off_px - line.offset - line.slope * p.along_px));
    }
    scatter = std::max(0.02, 1.4826 * median_of(away));
    double w = 0, wx = 0, wy = 0, wxx = 0, wxy = 0;
    for (std::size_t i = 0; i < kept.size(); ++i) {
      const double weight = std::min(1.0, 1.5 * scatter / std::max(1e-9, away[i]));
      w += weight;
      wx += weight * kept[i].along_px;
      wy += weight * kept[i].off_px;
      wxx += weight * kept[i].along_px * kept[i].along_px;
      wxy += weight * kept[i].along_px * kept[i].off_px;
    }
    line.slope = (w * wxy - wx * wy) / (w * wxx - wx * wx);
    line.offset = (wy - line.slope * wx) / w;
  }
  // Neighbouring places share their unevenness: about one in four is independent.
  line.u = scatter / std::sqrt(double(kept.size()) / 4.0);
  return line;
}

Vector2d crossing(const SideLine& a, const SideLine& b) {
  Eigen::Matrix2d m;
  m << a.along, -b.along;
  const double det = m.determinant();
  if (std::abs(det) < 1e-6) return a.middle_px;
  const Vector2d d = b.middle_px - a.middle_px;
  const double s = (d.x() * m(1, 1) - d.y() * m(0, 1)) / det;
  return a.middle_px + s * a.along;
}

std::optional<SideLine> refine_side(const cv::Mat& linear,
                                    const Vector2d& from,
                                    const Vector2d& to,
                                    double reach_px) {
  SideLine side;
  const double length = (to - from).norm();
  const Vector2d along = (to - from) / length;
  const Vector2d outward = outward_of(along);
  const Vector2d middle = (from + to) / 2.0;
  for (int i = 0; i < kPlaces; ++i) {
    const double s = length * ((i + 0.5) / kPlaces - 0.5);
    const Edge edge = edge_along(linear, middle + s * along, outward, reach_px);
    if (edge.found) side.points.push_back({s, edge.place});
  }
  const auto line = line_through(side.points, length / 2.0);
  if (!line) return {};
  side.u_px = line->u;
  side.middle_px = middle + line->offset * outward;
  side.along = (along + line->slope * outward).normalized();
  for (auto& p : side.points) p.off_px -= line->offset + line->slope * p.along_px;
  return side;
}

}  // namespace

cv::Vec3f light_at(const cv::Mat& linear, const Vector2d& px) {
  const double x = std::clamp(px.x(), 0.0, linear.cols - 1.001);
  const double y = std::clamp(px.y(), 0.0, linear.rows - 1.001);
  const int x0 = int(x);
  const int y0 = int(y);
  const float fx = float(x - x0);
  const float fy = float(y - y0);
  const auto* top = linear.ptr<cv::Vec3f>(y0) + x0;
  const auto* low = linear.ptr<cv::Vec3f>(y0 + 1) + x0;
  return (top[0] * (1 - fx) + top[1] * fx) * (1 - fy) + (low[0] * (1 - fx) + low[1] * fx) * fy;
}

Result<SectionShape> fit_section(const PlanePicture& plane, const FaceArea& area) {
  const Failure odd{"odd-outline",
                    "the outline of the bar's end has no four straight sides",
                    "Show the broken face square from above, on plain ground, without glare."};
  SectionShape shape;
  std::array<Vector2d, 4> corners = box_around(area);
  double reach_px =
      0.08 * std::min((corners[1] - corners[0]).norm(), (corners[2] - corners[1]).norm());
  reach_px = std::max(3.0, reach_px);
  // Again from the corners found, so that the last reach is a short one.
  for (int round = 0; round < 3; ++round) {
    for (std::size_t i = 0; i < 4; ++i) {
      const auto side = refine_side(plane.linear, corners[i], corners[(i + 1) % 4], reach_px);
      if (!side) return odd;
      shape.sides[i] = *side;
    }
    for (std::size_t i = 0; i < 4; ++i) {
      corners[i] = crossing(shape.sides[(i + 3) % 4], shape.sides[i]);
    }
    reach_px = std::max(3.0, 0.7 * reach_px);
  }
  for (std::size_t i = 0; i < 4; ++i) {
    shape.sides[i].from_px = corners[i];
    shape.sides[i].to_px = corners[(i + 1) % 4];
    const double turned = std::abs(shape.sides[i].along.dot(shape.sides[(i + 1) % 4].along));
    if (turned > 0.2) return odd;
  }
  shape.broken_px = corners;
  find_notch(plane, shape);
  return shape;
}

}  // namespace swingloss
