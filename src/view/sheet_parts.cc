// SPDX-License-Identifier: Apache-2.0
#include "view/sheet_parts.h"

#include "core/expects.h"
#include "core/number_text.h"

#include <cmath>
#include <map>

#include <opencv2/aruco.hpp>

namespace swingloss {
namespace {

using Eigen::Vector2d;

constexpr double kMm = 1e-3;
constexpr int kCells = 6;  // 4 x 4 and the border

std::vector<Vector2d> box_contour(const Vector2d& at, const Vector2d& size) {
  return {at, at + Vector2d(size.x(), 0.0), at + size, at + Vector2d(0.0, size.y())};
}

/// The outlines of the white cells as closed loops of cell corners. Where two white cells touch
/// there is no edge: each would be drawn as a hairline by programs that smooth edges.
std::vector<std::vector<cv::Point>> outlines_of(const cv::Mat& cells) {
  const auto white = [&](int row, int column) {
    return row >= 0 && column >= 0 && row < cells.rows && column < cells.cols &&
           cells.at<unsigned char>(row, column) > 127;
  };
  const auto before = [](const cv::Point& a, const cv::Point& b) {
    return a.y != b.y ? a.y < b.y : a.x < b.x;
  };
  // Directed edges, white on the right hand; one or two leave a corner.
  std::multimap<cv::Point, cv::Point, decltype(before)> edges(before);
  for (int row = 0; row < cells.rows; ++row) {
    for (int column = 0; column < cells.cols; ++column) {
      if (!white(row, column)) continue;
      const cv::Point a(column, row);
      const cv::Point b(column + 1, row);
      const cv::Point c(column + 1, row + 1);
      const cv::Point d(column, row + 1);
      if (!white(row - 1, column)) edges.emplace(a, b);
      if (!white(row, column + 1)) edges.emplace(b, c);
      if (!white(row + 1, column)) edges.emplace(c, d);
      if (!white(row, column - 1)) edges.emplace(d, a);
    }
  }
  std::vector<std::vector<cv::Point>> loops;
  while (!edges.empty()) {
    std::vector<cv::Point> loop;
    for (auto edge = edges.begin(); edge != edges.end(); edge = edges.find(loop.back())) {
      if (loop.empty()) loop.push_back(edge->first);
      loop.push_back(edge->second);
      edges.erase(edge);
      if (loop.back() == loop.front()) break;
    }
    loop.pop_back();
    loops.push_back(loop);
  }
  return loops;
}

}  // namespace

SheetShape box_shape(const Vector2d& at_m, const Vector2d& size_m, double grey) {
  return {{box_contour(at_m, size_m)}, grey};
}

SheetShape frame_shape(const Vector2d& at_m, const Vector2d& size_m, double line_m) {
  const Vector2d line = Vector2d::Constant(line_m);
  return {{box_contour(at_m, size_m), box_contour(at_m + line, size_m - 2.0 * line)}, 0.0};
}

SheetShape disc_shape(const Vector2d& centre_m, double radius_m, double grey) {
  constexpr int kSides = 256;
  constexpr double kTurn = 6.283185307179586;
  std::vector<Vector2d> contour;
  for (int i = 0; i < kSides; ++i) {
    const double angle = kTurn * i / kSides;
    contour.push_back(centre_m + radius_m * Vector2d(std::cos(angle), std::sin(angle)));
  }
  return {{contour}, grey};
}

SheetShape tag_shape(int id, const Vector2d& at_m, double side_m) {
  expects(id >= 0 && id < 50, "tag_shape: the dictionary has tags 0 to 49");
  const auto dictionary = cv::aruco::getPredefinedDictionary(cv::aruco::DICT_4X4_50);
  cv::Mat cells;
  cv::aruco::drawMarker(dictionary, id, kCells, cells, 1);
  SheetShape shape;
  shape.contours_m.push_back(box_contour(at_m, Vector2d::Constant(side_m)));
  const double cell = side_m / kCells;
  for (const auto& loop : outlines_of(cells)) {
    std::vector<Vector2d> contour;
    contour.reserve(loop.size());
    for (const cv::Point& corner : loop)
      contour.push_back(at_m + cell * Vector2d(corner.x, corner.y));
    shape.contours_m.push_back(contour);
  }
  return shape;
}

void add_ruler(SheetPage& page, const Vector2d& from_m, double length_m) {
  const double line = 0.2 * kMm;
  page.shapes.push_back(box_shape(from_m, {length_m, line}, 0.0));
  const int ticks = static_cast<int>(std::lround(length_m / kMm));
  for (int i = 0; i <= ticks; ++i) {
    const double height = (i % 10 == 0 ? 4.0 : i % 5 == 0 ? 2.8 : 1.6) * kMm;
    const bool end = i == 0 || i == ticks;
    const double x = i == 0 ? 0.0 : end ? length_m - line : i * kMm - line / 2.0;
    page.shapes.push_back(box_shape(
        from_m + Vector2d(x, -height), {line, height + (end ? 1.0 * kMm : 0.0)}, 0.0));
  }
  page.texts.push_back(
      {from_m + Vector2d(0.0, 4.8 * kMm),
       3.0 * kMm,
       "From end to end " + fixed_text(length_m / kMm, 2) + " mm when printed true"});
}

}  // namespace swingloss
