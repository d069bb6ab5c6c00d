// SPDX-License-Identifier: Apache-2.0
#include "tracking/axle_search.h"

#include "core/median.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <random>

namespace swingloss {
namespace {

constexpr unsigned kSeed = 12345;
constexpr std::size_t kLeastBisectors = 12;

/// One perpendicular bisector: points p with normal . (p - middle) = 0.
struct Bisector {
  cv::Point2d middle, normal;
  double chord_px;
};

std::vector<Bisector> bisectors_of(const std::vector<FollowedCorner>& corners) {
  std::vector<Bisector> out;
  out.reserve(corners.size());
  for (const FollowedCorner& corner : corners) {
    const cv::Point2d chord = corner.to - corner.from;
    const double length = cv::norm(chord);
    if (length > 0.0) out.push_back({corner.from + 0.5 * chord, chord / length, length});
  }
  return out;
}

/// A followed corner is good to about a quarter pixel, so the bisector's distance from the axle
/// is good to that times (distance / chord).
double tolerance_px(const Bisector& b, const cv::Point2d& p) {
  return 1.0 + 0.25 * cv::norm(p - b.middle) / b.chord_px;
}

/// Of a bisector that passes through the axle.
double most_weight(const Bisector& b) { return std::min(b.chord_px, 6.0); }

double weight_at(const Bisector& b, const cv::Point2d& p) {
  const double distance = b.normal.dot(p - b.middle) / tolerance_px(b, p);
  return std::abs(distance) < 2.5 ? most_weight(b) / (1.0 + distance * distance) : 0.0;
}

double support_at(const std::vector<Bisector>& bisectors, const cv::Point2d& p) {
  double sum = 0.0;
  for (const Bisector& b : bisectors) sum += weight_at(b, p);
  return sum;
}

/// Weighted least-squares meeting point of the bisectors near `p`, iterated.
cv::Point2d refined(const std::vector<Bisector>& bisectors, cv::Point2d p) {
  for (int iteration = 0; iteration < 15; ++iteration) {
    double xx = 1e-9, xy = 0.0, yy = 1e-9, bx = 0.0, by = 0.0;
    for (const Bisector& b : bisectors) {
      const double w = weight_at(b, p) / (tolerance_px(b, p) * tolerance_px(b, p));
      const double d = b.normal.dot(b.middle);
      xx += w * b.normal.x * b.normal.x;
      xy += w * b.normal.x * b.normal.y;
      yy += w * b.normal.y * b.normal.y;
      bx += w * b.normal.x * d;
      by += w * b.normal.y * d;
    }
    const double det = xx * yy - xy * xy;
    if (std::abs(det) < 1e-9) break;
    p = {(yy * bx - xy * by) / det, (xx * by - xy * bx) / det};
  }
  return p;
}

double spread_at(const std::vector<Bisector>& bisectors, const cv::Point2d& p) {
  std::vector<double> distances;
  for (const Bisector& b : bisectors) {
    if (weight_at(b, p) > 0.0) distances.push_back(std::abs(b.normal.dot(p - b.middle)));
  }
  return 1.48 * median_of(std::move(distances));
}

/// Where two bisectors cross, unless they are nearly parallel.
std::optional<cv::Point2d> crossing(const Bisector& a, const Bisector& b) {
  const double det = a.normal.x * b.normal.y - a.normal.y * b.normal.x;
  if (std::abs(det) < 0.1) return std::nullopt;
  const double da = a.normal.dot(a.middle), db = b.normal.dot(b.middle);
  return cv::Point2d((da * b.normal.y - db * a.normal.y) / det,
                     (a.normal.x * db - b.normal.x * da) / det);
}

/// The crossing with the most support of many pairs drawn by chance, refined; none when there
/// are few, or no pair has any.
std::optional<cv::Point2d> best_crossing(const std::vector<Bisector>& bisectors,
                                         const cv::Size& size,
                                         std::mt19937& random) {
  if (bisectors.size() < kLeastBisectors) return std::nullopt;
  std::uniform_int_distribution<std::size_t> pick(0, bisectors.size() - 1);
  std::optional<cv::Point2d> best;
  double best_support = 0.0;
  for (int trial = 0; trial < 400; ++trial) {
    const Bisector& a = bisectors[pick(random)];
    const Bisector& b = bisectors[pick(random)];
    const std::optional<cv::Point2d> p = crossing(a, b);
    if (!p || p->x < -size.width || p->x > 2 * size.width || p->y < -size.height ||
        p->y > 2 * size.height)
      continue;
    const double support = support_at(bisectors, *p);
    if (support > best_support) {
      best_support = support;
      best = p;
    }
  }
  if (best) best = refined(bisectors, *best);
  return best;
}

}  // namespace

std::vector<AxleCandidate> find_axle_candidates(const std::vector<FollowedCorner>& corners,
                                                const cv::Size& size,
                                                int wanted) {
  std::vector<Bisector> bisectors = bisectors_of(corners);
  std::vector<AxleCandidate> candidates;
  std::mt19937 random(kSeed);
  for (int round = 0; round < wanted; ++round) {
    const std::optional<cv::Point2d> best = best_crossing(bisectors, size, random);
    if (!best) break;
    candidates.push_back({*best, support_at(bisectors, *best), spread_at(bisectors, *best)});
    bisectors.erase(
        std::remove_if(bisectors.begin(),
                       bisectors.end(),
                       [&](const Bisector& b) { return weight_at(b, *best) > 0.0; }),
        bisectors.end());
  }
  return candidates;
}

double part_about_one_axle(const std::vector<FollowedCorner>& corners, const cv::Size& size) {
  const std::vector<Bisector> bisectors = bisectors_of(corners);
  std::mt19937 random(kSeed);
  const std::optional<cv::Point2d> best = best_crossing(bisectors, size, random);
  if (!best) return 0.0;
  double most = 0.0;
  for (const Bisector& b : bisectors) most += most_weight(b);
  return support_at(bisectors, *best) / most;
}

}  // namespace swingloss
