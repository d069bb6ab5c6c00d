// SPDX-License-Identifier: Apache-2.0
#include "surface/find_faces.h"

#include "core/median.h"

#include <algorithm>
#include <cmath>

#include <Eigen/QR>
#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

/// Smallest bar: 1.5 x 2 mm; in a picture without scale a hundredth of it.
constexpr double kSmallest_m2 = 3e-6;
constexpr double kSmallestShare = 0.01;
constexpr double kSteps = 5.0;      // of the ground's own scatter
constexpr double kOfBar = 0.2;      // of what the bars differ by
constexpr float kLeastStep = 4.0F;  // in CIELAB: below it paper and print vary by themselves

struct Ring {
  int from_px = 0, to_px = 0;  ///< distance from the edge of the picture
};

Ring ring_of(const PlanePicture& plane) {
  if (plane.card) {
    // The window's own border line, or its cut edge, is left out.
    return {int(std::lround(0.8e-3 * plane.px_per_m)),
            int(std::lround(2.2e-3 * plane.px_per_m))};
  }
  const int side = std::min(plane.bgr.cols, plane.bgr.rows);
  return {1, std::max(4, side / 25)};
}

std::vector<cv::Point> pixels_in(const Ring& ring, const cv::Size& size) {
  std::vector<cv::Point> places;
  for (int row = ring.from_px; row < size.height - ring.from_px; ++row) {
    for (int column = ring.from_px; column < size.width - ring.from_px; ++column) {
      const int edge = std::min({row, column, size.height - 1 - row, size.width - 1 - column});
      if (edge < ring.to_px && (row + column) % 2 == 0) places.emplace_back(column, row);
    }
  }
  return places;
}

using Terms = Eigen::Matrix<double, 6, 1>;
constexpr Eigen::Index kEven = 3, kCurved = 6;  // terms of a plane; with a lens's dark corners

/// Ground colour over the picture, one surface a channel, by repeated weighting: what lies on
/// the ground (a bar that reaches the ring) does not pull.
struct Ground {
  /// a + b x + c y + d x^2 + e x y + f y^2, x and y from the middle in longer sides
  std::array<Terms, 3> surface{Terms::Zero(), Terms::Zero(), Terms::Zero()};
  cv::Size size;
  double scatter = 0.0;  ///< robust, in CIELAB
  [[nodiscard]] Terms terms_at(const cv::Point& p) const {
    const double side = std::max(size.width, size.height);
    const double x = (p.x - size.width / 2.0) / side;
    const double y = (p.y - size.height / 2.0) / side;
    return (Terms() << 1.0, x, y, x * x, x * y, y * y).finished();
  }
};

double off_ground(const Ground& ground, const cv::Mat& lab, const cv::Point& p) {
  const cv::Vec3f& c = lab.at<cv::Vec3f>(p);
  const Terms terms = ground.terms_at(p);
  double square = 0.0;
  for (int k = 0; k < 3; ++k) {
    const double off = double(c[k]) - ground.surface[std::size_t(k)].dot(terms);
    square += off * off;
  }
  return std::sqrt(square);
}

Ground fit_ground(const cv::Mat& lab, const std::vector<cv::Point>& ring, Eigen::Index terms) {
  Ground ground;
  ground.size = lab.size();
  std::vector<cv::Point> kept = ring;
  // The start is the median; thereafter the nearer half says where the surface lies.
  for (int k = 0; k < 3; ++k) {
    std::vector<float> values;
    values.reserve(kept.size());
    for (const cv::Point& p : kept) values.push_back(lab.at<cv::Vec3f>(p)[k]);
    ground.surface[std::size_t(k)][0] = double(median_of(values));
  }
  for (int round = 0; round < 4; ++round) {
    std::vector<double> off;
    off.reserve(ring.size());
    for (const cv::Point& p : ring) off.push_back(off_ground(ground, lab, p));
    const double middle = std::max(0.3, median_of(off));
    ground.scatter = middle;
    kept.clear();
    for (std::size_t i = 0; i < off.size(); ++i) {
      if (off[i] < 3.0 * middle) kept.push_back(ring[i]);
    }
    MatrixXd a(Eigen::Index(kept.size()), terms);
    MatrixXd b(Eigen::Index(kept.size()), 3);
    for (std::size_t i = 0; i < kept.size(); ++i) {
      a.row(Eigen::Index(i)) = ground.terms_at(kept[i]).head(terms);
      const cv::Vec3f& c = lab.at<cv::Vec3f>(kept[i]);
      b.row(Eigen::Index(i)) << double(c[0]), double(c[1]), double(c[2]);
    }
    const MatrixXd solved = a.colPivHouseholderQr().solve(b);
    for (int k = 0; k < 3; ++k) ground.surface[std::size_t(k)].head(terms) = solved.col(k);
  }
  return ground;
}

cv::Mat difference_from(const Ground& ground, const cv::Mat& lab) {
  cv::Mat off(lab.size(), CV_32FC1);
  for (int row = 0; row < lab.rows; ++row) {
    for (int column = 0; column < lab.cols; ++column) {
      off.at<float>(row, column) = float(off_ground(ground, lab, {column, row}));
    }
  }
  return off;
}

/// The value that a twentieth of the picture exceeds: what bars differ by, where there are
/// bars.
double high_value(const cv::Mat& off) {
  std::vector<float> values;
  for (int row = 0; row < off.rows; row += 2) {
    for (int column = 0; column < off.cols; column += 2)
      values.push_back(off.at<float>(row, column));
  }
  const auto place = values.begin() + std::ptrdiff_t(values.size() * 95 / 100);
  std::nth_element(values.begin(), place, values.end());
  return double(*place);
}

cv::Mat bars_in(const PlanePicture& plane, const Ring& ring) {
  cv::Mat lab;
  cv::Mat display;
  plane.bgr.convertTo(display, CV_32FC3, 1.0 / 255.0);
  cv::GaussianBlur(display, display, {}, 1.0);
  cv::cvtColor(display, lab, cv::COLOR_BGR2Lab);
  const Ground ground =
      fit_ground(lab, pixels_in(ring, lab.size()), plane.card ? kEven : kCurved);
  const cv::Mat off = difference_from(ground, lab);
  const double level =
      std::max({double(kLeastStep), kSteps * ground.scatter, kOfBar * high_value(off)});
  cv::Mat mask = off > level;
  const int inset = plane.card ? ring.from_px : 0;
  if (inset > 0) {
    cv::Mat inner = cv::Mat::zeros(mask.size(), CV_8UC1);
    inner(cv::Rect(inset, inset, mask.cols - 2 * inset, mask.rows - 2 * inset)).setTo(255);
    mask &= inner;
  }
  return mask;
}

int odd(double px) { return std::max(1, int(std::lround(px))) | 1; }

/// Closes what a bar's own dark or light places leave open, and drops dust.
void tidy(cv::Mat& mask, double unit_px) {
  const auto disc = [](double px) {
    return cv::getStructuringElement(cv::MORPH_ELLIPSE, {odd(px), odd(px)});
  };
  cv::morphologyEx(mask, mask, cv::MORPH_CLOSE, disc(0.5 * unit_px));
  cv::morphologyEx(mask, mask, cv::MORPH_OPEN, disc(0.6 * unit_px));
}

FaceArea area_of(const std::vector<cv::Point>& contour, const cv::Size& size) {
  FaceArea area;
  area.mask = cv::Mat::zeros(size, CV_8UC1);
  cv::drawContours(area.mask, std::vector<std::vector<cv::Point>>{contour}, 0, 255, cv::FILLED);
  area.area_px = double(cv::countNonZero(area.mask));
  for (const cv::Point& p : contour) area.outline.emplace_back(p.x, p.y);
  return area;
}

FaceArea whole(const cv::Size& size) {
  const int margin = std::min(size.width, size.height) / 20;
  const cv::Rect inner(margin, margin, size.width - 2 * margin, size.height - 2 * margin);
  FaceArea area = area_of({inner.tl(),
                           {inner.x + inner.width, inner.y},
                           inner.br(),
                           {inner.x, inner.y + inner.height}},
                          size);
  area.whole_picture = true;
  return area;
}

/// Share of a contour that runs along the edge of the picture.
double share_at_edge(const std::vector<cv::Point>& contour, const cv::Size& size, int reach) {
  std::size_t at_edge = 0;
  for (const cv::Point& p : contour) {
    const bool near = p.x <= reach || p.y <= reach || p.x >= size.width - 1 - reach ||
                      p.y >= size.height - 1 - reach;
    at_edge += near ? 1 : 0;
  }
  return double(at_edge) / double(std::max<std::size_t>(1, contour.size()));
}

/// Without a card anything may lie in the picture: what is no bar's end (ragged, or far smaller
/// than the largest) is left out, so that bright grains of a close-up are not taken for faces.
void keep_likely(std::vector<FaceArea>& faces) {
  // Of the smallest rectangle around it; more of a small one: in rendered close-ups that show
  // nothing but face most parts below it filled less, of faces on a table none did.
  constexpr double kSolid = 0.7, kSolidSmall = 0.84, kSmallShare = 0.06;
  constexpr double kOfLargest = 0.2;
  const auto ragged = [](const FaceArea& face) {
    const auto box = box_around(face);
    const double box_px = (box[1] - box[0]).norm() * (box[2] - box[1]).norm();
    const bool small = face.area_px < kSmallShare * double(face.mask.total());
    return face.area_px < (small ? kSolidSmall : kSolid) * box_px;
  };
  faces.erase(std::remove_if(faces.begin(), faces.end(), ragged), faces.end());
  double largest = 0.0;
  for (const FaceArea& face : faces) largest = std::max(largest, face.area_px);
  const auto small = [&](const FaceArea& face) { return face.area_px < kOfLargest * largest; };
  faces.erase(std::remove_if(faces.begin(), faces.end(), small), faces.end());
}

/// Row by row, from left to right: a row is what lies beside its topmost face.
void put_in_reading_order(std::vector<FaceArea>& faces) {
  std::vector<std::pair<cv::Rect, FaceArea>> left;
  left.reserve(faces.size());
  for (FaceArea& face : faces) left.emplace_back(cv::boundingRect(face.mask), std::move(face));
  faces.clear();
  std::sort(left.begin(), left.end(), [](const auto& a, const auto& b) {
    return std::pair(a.first.y, a.first.x) < std::pair(b.first.y, b.first.x);
  });
  while (!left.empty()) {
    const int low = left.front().first.y + left.front().first.height;
    const auto below = std::stable_partition(left.begin(), left.end(), [&](const auto& face) {
      return face.first.y + face.first.height / 2 < low;
    });
    std::sort(left.begin(), below, [](const auto& a, const auto& b) {
      return a.first.x < b.first.x;
    });
    for (auto face = left.begin(); face != below; ++face)
      faces.push_back(std::move(face->second));
    left.erase(left.begin(), below);
  }
}

}  // namespace

std::array<Eigen::Vector2d, 4> box_around(const FaceArea& area) {
  std::vector<cv::Point2f> points;
  points.reserve(area.outline.size());
  for (const Eigen::Vector2d& p : area.outline) points.emplace_back(float(p.x()), float(p.y()));
  cv::Point2f corner[4];
  cv::minAreaRect(points).points(corner);  // goes clockwise as seen, y down
  std::array<Eigen::Vector2d, 4> box;
  for (std::size_t i = 0; i < 4; ++i) box[i] = {double(corner[i].x), double(corner[i].y)};
  return box;
}

Result<std::vector<FaceArea>> find_faces(const PlanePicture& plane) {
  const Ring ring = ring_of(plane);
  cv::Mat mask = bars_in(plane, ring);
  const cv::Size size = mask.size();
  const double unit_px =
      plane.card ? 1e-3 * plane.px_per_m : std::hypot(size.width, size.height) / 120.0;
  tidy(mask, unit_px);
  std::vector<std::vector<cv::Point>> contours;
  cv::findContours(mask, contours, cv::RETR_EXTERNAL, cv::CHAIN_APPROX_NONE);
  const double smallest_px = plane.card ? kSmallest_m2 * plane.px_per_m * plane.px_per_m
                                        : kSmallestShare * double(size.area());
  std::vector<FaceArea> faces;
  bool cut_off = false;
  for (const auto& contour : contours) {
    FaceArea area = area_of(contour, size);
    if (area.area_px < smallest_px) continue;
    const double at_edge = share_at_edge(contour, size, ring.from_px + 1);
    if (plane.card && at_edge > 0.0) {
      cut_off = true;
      continue;
    }
    if (!plane.card && at_edge > 0.25) continue;
    faces.push_back(std::move(area));
  }
  if (faces.empty() && cut_off) {
    return Failure{"bar-cut-off",
                   "what lies in the window reaches over its edge",
                   "Lay the broken face wholly inside the window, with ground on all sides."};
  }
  if (faces.empty() && plane.card) {
    return Failure{"no-bar",
                   "nothing in the card's window differs from its ground",
                   "Lay the bar in the window; use the light-ground card for dark bars and the "
                   "dark-ground card for light ones."};
  }
  if (!plane.card) keep_likely(faces);
  if (faces.empty()) faces.push_back(whole(size));
  put_in_reading_order(faces);
  return faces;
}

}  // namespace swingloss
