// SPDX-License-Identifier: Apache-2.0
#include "view/card_tags.h"

#include "core/median.h"

#include <algorithm>
#include <cmath>

#include <opencv2/aruco.hpp>
#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

using Eigen::Vector2d;

constexpr int kCells = 6;  // of a tag's side

std::vector<SeenTag> read_at(const cv::Mat& grey, int longest_px) {
  const double shrink = std::min(1.0, double(longest_px) / std::max(grey.cols, grey.rows));
  cv::Mat small = grey;
  if (shrink < 1.0) cv::resize(grey, small, {}, shrink, shrink, cv::INTER_AREA);
  const auto dictionary = cv::aruco::getPredefinedDictionary(cv::aruco::DICT_4X4_50);
  const auto settings = cv::aruco::DetectorParameters::create();
  settings->adaptiveThreshWinSizeMin = 5;
  settings->adaptiveThreshWinSizeMax = 65;
  settings->adaptiveThreshWinSizeStep = 20;
  settings->minMarkerPerimeterRate = 0.02;
  std::vector<std::vector<cv::Point2f>> corners;
  std::vector<int> ids;
  cv::aruco::detectMarkers(small, dictionary, corners, ids, settings);
  // Sizes are rounded to whole pixels: the true factors are those of the sizes.
  const double by_x = double(grey.cols) / small.cols;
  const double by_y = double(grey.rows) / small.rows;
  std::vector<SeenTag> tags;
  for (std::size_t i = 0; i < ids.size(); ++i) {
    SeenTag tag{ids[i], {}};
    for (std::size_t j = 0; j < 4; ++j) {
      tag.corners_px[j] = {(double(corners[i][j].x) + 0.5) * by_x - 0.5,
                           (double(corners[i][j].y) + 0.5) * by_y - 0.5};
    }
    tags.push_back(tag);
  }
  return tags;
}

double side_px(const SeenTag& tag) {
  double sum = 0.0;
  for (std::size_t j = 0; j < 4; ++j) {
    sum += (tag.corners_px[(j + 1) % 4] - tag.corners_px[j]).norm();
  }
  return sum / 4.0;
}

/// The corner where the black border ends, within less than a cell so that the border's inner
/// corner stays out.
void refine(const cv::Mat& grey, SeenTag& tag) {
  std::vector<cv::Point2f> corners;
  for (const Vector2d& c : tag.corners_px) corners.emplace_back(float(c.x()), float(c.y()));
  const int reach = std::clamp(int(0.4 * side_px(tag) / kCells), 2, 20);
  const cv::TermCriteria enough(cv::TermCriteria::EPS + cv::TermCriteria::COUNT, 40, 0.001);
  cv::cornerSubPix(grey, corners, {reach, reach}, {-1, -1}, enough);
  for (std::size_t j = 0; j < 4; ++j) {
    tag.corners_px[j] = {double(corners[j].x), double(corners[j].y)};
  }
}

double level_at(const cv::Mat& grey, const Vector2d& p) {
  const double x = std::clamp(p.x(), 0.0, grey.cols - 1.001);
  const double y = std::clamp(p.y(), 0.0, grey.rows - 1.001);
  const int x0 = int(x);
  const int y0 = int(y);
  const double fx = x - x0;
  const double fy = y - y0;
  const auto at = [&](int row, int column) {
    return double(grey.at<unsigned char>(row, column));
  };
  return (1.0 - fy) * ((1.0 - fx) * at(y0, x0) + fx * at(y0, x0 + 1)) +
         fy * ((1.0 - fx) * at(y0 + 1, x0) + fx * at(y0 + 1, x0 + 1));
}

struct EdgeProfile {
  double sigma_px = 0.0, black = 0.0, white = 0.0;
};

/// Mean profile across one side of a tag, from inside (black) to outside (white).
EdgeProfile profile_of(const cv::Mat& grey, const Vector2d& from, const Vector2d& to) {
  const Vector2d along = to - from;
  const double length = along.norm();
  const Vector2d outward = Vector2d(along.y(), -along.x()) / length;
  const double reach = 0.8 * length / kCells;
  constexpr int kSteps = 48;
  std::vector<double> level(kSteps + 1, 0.0);
  constexpr int kPlaces = 16;
  for (int k = 0; k < kPlaces; ++k) {
    const Vector2d base = from + along * (0.15 + 0.7 * (k + 0.5) / kPlaces);
    for (int i = 0; i <= kSteps; ++i) {
      const double offset = reach * (2.0 * i / kSteps - 1.0);
      level[std::size_t(i)] += level_at(grey, base + offset * outward) / kPlaces;
    }
  }
  EdgeProfile out;
  out.black = *std::min_element(level.begin(), level.end());
  out.white = *std::max_element(level.begin(), level.end());
  // Of a step blurred by a Gaussian, the steepest slope is step / (sqrt(2 pi) sigma). Moments
  // of the slope would say the same, but a wide blur brings the tag's white cells into the
  // profile.
  double steepest = 0.0;
  for (int i = 2; i + 2 <= kSteps; ++i) {
    const double rise = level[std::size_t(i) + 2] - level[std::size_t(i) - 2];
    steepest = std::max(steepest, rise / (4.0 * 2.0 * reach / kSteps));
  }
  constexpr double kRootTwoPi = 2.5066282746310002;
  if (steepest <= 0.0) return out;
  const double seen_px = (out.white - out.black) / (kRootTwoPi * steepest);
  // Reading between pixels blurs by itself, with a variance of 1/6 px^2 (a triangle 2 px wide).
  out.sigma_px = std::sqrt(std::max(0.0, seen_px * seen_px - 1.0 / 6.0));
  return out;
}

}  // namespace

std::vector<SeenTag> read_card_tags(const cv::Mat& grey) {
  std::vector<SeenTag> best;
  for (const int longest_px : {2400, 1200, 600}) {
    std::vector<SeenTag> tags = read_at(grey, longest_px);
    const bool enough = tags.size() >= 12;
    if (tags.size() > best.size()) best = std::move(tags);
    if (enough) break;
  }
  for (SeenTag& tag : best) refine(grey, tag);
  return best;
}

EdgeLook look_of_edges(const cv::Mat& grey, const std::vector<SeenTag>& tags) {
  std::array<std::vector<double>, 2> sigma_px;  // of sides along and across
  std::vector<double> black;
  std::vector<double> white;
  for (const SeenTag& tag : tags) {
    for (std::size_t j = 0; j < 4; ++j) {
      const EdgeProfile edge = profile_of(grey, tag.corners_px[j], tag.corners_px[(j + 1) % 4]);
      sigma_px[j % 2].push_back(edge.sigma_px);
      black.push_back(edge.black);
      white.push_back(edge.white);
    }
  }
  EdgeLook look;
  look.blur_px = std::max(median_of(sigma_px[0]), median_of(sigma_px[1]));
  look.black_level = median_of(black);
  look.white_level = median_of(white);
  return look;
}

}  // namespace swingloss
