// SPDX-License-Identifier: Apache-2.0
#include "tracking/axle_search.h"

#include "core/median.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <random>

#include <opencv2/imgproc.hpp>
#include <opencv2/video/tracking.hpp>

namespace swingloss {
namespace {

/// One perpendicular bisector: points p with normal . (p - middle) = 0.
struct Bisector {
  cv::Point2d middle, normal;
  double chord_px;
};

/// Follows corners of the moving region from one small picture to another.
void add_bisectors(const ClipSurvey& survey,
                   std::size_t from,
                   std::size_t to,
                   std::vector<Bisector>& out) {
  cv::Mat background8, mask;
  survey.small_background.convertTo(background8, CV_8U);
  cv::absdiff(survey.small[from], background8, mask);
  mask = mask > std::max(10.0, 6.0 * survey.noise);
  std::vector<cv::Point2f> corners;
  cv::goodFeaturesToTrack(survey.small[from], corners, 60, 0.02, 3.0, mask, 3);
  if (corners.empty()) return;
  std::vector<cv::Point2f> moved, back;
  std::vector<uchar> found, found_back;
  std::vector<float> error;
  const cv::Size window(11, 11);
  cv::calcOpticalFlowPyrLK(
      survey.small[from], survey.small[to], corners, moved, found, error, window, 3);
  cv::calcOpticalFlowPyrLK(
      survey.small[to], survey.small[from], moved, back, found_back, error, window, 3);
  for (std::size_t i = 0; i < corners.size(); ++i) {
    if (!found[i] || !found_back[i] || cv::norm(back[i] - corners[i]) > 0.5) continue;
    const cv::Point2d chord = cv::Point2d(moved[i]) - cv::Point2d(corners[i]);
    const double length = cv::norm(chord);
    if (length < 1.0) continue;
    out.push_back({cv::Point2d(corners[i]) + 0.5 * chord, chord / length, length});
  }
}

/// A followed corner is good to about a quarter pixel, so the bisector's distance from the axle
/// is good to that times (distance / chord).
double tolerance_px(const Bisector& b, const cv::Point2d& p) {
  return 1.0 + 0.25 * cv::norm(p - b.middle) / b.chord_px;
}

double weight_at(const Bisector& b, const cv::Point2d& p) {
  const double distance = b.normal.dot(p - b.middle) / tolerance_px(b, p);
  return std::abs(distance) < 2.5 ? std::min(b.chord_px, 6.0) / (1.0 + distance * distance)
                                  : 0.0;
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

/// The crossing with the most support of many pairs drawn by chance, none when no pair has any.
std::optional<cv::Point2d> best_crossing(const std::vector<Bisector>& bisectors,
                                         const cv::Size& size,
                                         std::mt19937& random) {
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
  return best;
}

}  // namespace

std::vector<AxleCandidate> find_axle_candidates(const ClipSurvey& survey, int wanted) {
  std::vector<Bisector> bisectors;
  for (std::size_t k = 1; k < survey.small.size(); ++k) {
    if (survey.motion[k] > 0.0 && bisectors.size() < 20000)
      add_bisectors(survey, k - 1, k, bisectors);
  }
  // Slow swings: frames further apart give chords long enough to have a direction.
  for (std::size_t k = 6; k < survey.small.size() && bisectors.size() < 20000; k += 2) {
    const bool in_one_run = survey.frames[k] == survey.frames[k - 6] + 6;
    if (in_one_run && survey.motion[k] > 0.0) add_bisectors(survey, k - 6, k, bisectors);
  }
  std::vector<AxleCandidate> candidates;
  if (bisectors.size() < 12) return candidates;

  const cv::Size size = survey.small.front().size();
  std::mt19937 random(12345);
  for (int round = 0; round < wanted; ++round) {
    const std::optional<cv::Point2d> found = best_crossing(bisectors, size, random);
    if (!found) break;
    const cv::Point2d best = refined(bisectors, *found);
    candidates.push_back({best, support_at(bisectors, best), spread_at(bisectors, best)});
    bisectors.erase(std::remove_if(bisectors.begin(),
                                   bisectors.end(),
                                   [&](const Bisector& b) { return weight_at(b, best) > 0.0; }),
                    bisectors.end());
    if (bisectors.size() < 12) break;
  }
  return candidates;
}

}  // namespace swingloss
