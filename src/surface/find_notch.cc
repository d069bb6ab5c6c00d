// SPDX-License-Identifier: Apache-2.0
#include "core/median.h"
#include "surface/fit_section.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace swingloss {
namespace {

using Eigen::Vector2d;

constexpr int kRows = 160;   // across the bar, from side to side
constexpr int kAcross = 64;  // places in a row
constexpr int kStrips = 8;
constexpr double kNearest = 0.06, kFarthest = 0.45;  // of the way across
constexpr int kWindow = 8;                           // rows on either side of a step
constexpr int kFeatures = 4;                         // log light, two log ratios, log texture
/// A step this many scatters high is taken for a root. Rows of a plain face step by chance up
/// to about 4 (largest of some 60 places of four features).
constexpr double kLeastContrast = 6.0;
constexpr double kClearer = 1.25;  // than the best step of any other side
constexpr double kMost_u =
    0.006;  // of the way: strips that scatter more have no root in common

/// What one row parallel to a side looks like.
struct Row {
  std::array<double, kFeatures> feature{};
  cv::Vec3d light{0.0, 0.0, 0.0};
};

/// Features of rows parallel to a side, from that side inward, over a part of its length.
std::vector<Row> rows_from(const PlanePicture& plane,
                           const std::array<Vector2d, 4>& corners,
                           std::size_t side,
                           std::pair<double, double> part) {
  const Vector2d& left = corners[side];
  const Vector2d& right = corners[(side + 1) % 4];
  const Vector2d& far_right = corners[(side + 2) % 4];
  const Vector2d& far_left = corners[(side + 3) % 4];
  std::vector<Row> rows;
  for (int i = 0; i < kRows; ++i) {
    const double t = (i + 0.5) / kRows;
    const Vector2d a = left + t * (far_left - left);
    const Vector2d b = right + t * (far_right - right);
    std::vector<double> light;
    Row row;
    for (int j = 0; j < kAcross; ++j) {
      const double s = part.first + (part.second - part.first) * (j + 0.5) / kAcross;
      const cv::Vec3f c = light_at(plane.linear, a + s * (b - a));
      const double blue = std::log(std::max(2e-3F, c[0]));
      const double green = std::log(std::max(2e-3F, c[1]));
      const double red = std::log(std::max(2e-3F, c[2]));
      light.push_back(green);
      row.feature[0] += green / kAcross;
      row.feature[1] += (red - green) / kAcross;
      row.feature[2] += (blue - green) / kAcross;
      row.light += cv::Vec3d(c) * (1.0 / kAcross);
    }
    double texture = 0.0;
    for (std::size_t j = 1; j < light.size(); ++j) texture += std::abs(light[j] - light[j - 1]);
    row.feature[3] = std::log(0.005 + texture / double(light.size() - 1));
    rows.push_back(row);
  }
  return rows;
}

struct Step {
  double contrast = 0.0;
  double place = 0.0;  ///< share of the way across
  double doubt = 0.0;  ///< half way to another step that may be the root, likewise
};

/// Height of the step between the rows before and after `k`, in the scatter from row to row.
double contrast_at(const std::vector<Row>& rows, int k) {
  double sum = 0.0;
  for (std::size_t f = 0; f < kFeatures; ++f) {
    double before = 0, after = 0, square = 0;
    for (int i = 0; i < kWindow; ++i) {
      before += rows[std::size_t(k) - 1 - std::size_t(i)].feature[f] / kWindow;
      after += rows[std::size_t(k) + std::size_t(i)].feature[f] / kWindow;
    }
    for (int i = 0; i < kWindow; ++i) {
      square += std::pow(rows[std::size_t(k) - 1 - std::size_t(i)].feature[f] - before, 2) +
                std::pow(rows[std::size_t(k) + std::size_t(i)].feature[f] - after, 2);
    }
    const double variance = square / (2.0 * kWindow - 2.0) + 1e-4;
    sum += (after - before) * (after - before) / (variance * 2.0 / kWindow);
  }
  return std::sqrt(sum / kFeatures);
}

Step best_step(const std::vector<Row>& rows, double from, double to) {
  Step best;
  const int first = std::max(kWindow, int(from * kRows));
  const int last = std::min(kRows - kWindow, int(to * kRows));
  std::vector<double> contrast(kRows + 1, 0.0);
  for (int k = first; k <= last; ++k) {
    contrast[std::size_t(k)] = contrast_at(rows, k);
    if (contrast[std::size_t(k)] > best.contrast) best = {contrast[std::size_t(k)], double(k)};
  }
  const auto k = std::size_t(best.place);
  if (best.contrast > 0.0 && int(k) > first && int(k) < last) {
    const double l = contrast[k - 1];
    const double m = contrast[k];
    const double r = contrast[k + 1];
    const double curve = l - 2.0 * m + r;
    if (curve < 0.0) best.place += 0.5 * (l - r) / curve;
  }
  best.place /= kRows;
  return best;
}

/// How much smoother the strip before the root is than what follows: a cut notch is, a torn lip
/// or a band of facets is not. Within a factor of three either way.
double smoother(const std::vector<Row>& rows, double place) {
  double strip = 0.0;
  double rest = 0.0;
  const int root = int(place * kRows);
  const int first = 4;  // the outer edge itself is no texture
  for (int i = first; i < kRows - first; ++i) {
    const double texture = rows[std::size_t(i)].feature[3];
    if (i < root - 1) strip += texture / std::max(1, root - 1 - first);
    if (i > root + 1) rest += texture / std::max(1, kRows - first - root - 2);
  }
  return std::exp(std::clamp(rest - strip, -1.1, 1.1));
}

/// Places where the contrast is the highest within a window on either side, times smoother().
std::vector<Step> peaks_of(const std::vector<Row>& rows) {
  const int first = std::max(kWindow, int(kNearest * kRows));
  const int last = std::min(kRows - kWindow, int(kFarthest * kRows));
  std::vector<double> contrast(kRows + 1, 0.0);
  for (int k = first; k <= last; ++k) contrast[std::size_t(k)] = contrast_at(rows, k);
  std::vector<Step> peaks;
  for (int k = first + 1; k < last; ++k) {
    const auto from = contrast.begin() + std::max(first, k - kWindow);
    const auto to = contrast.begin() + std::min(last, k + kWindow) + 1;
    if (contrast[std::size_t(k)] < *std::max_element(from, to)) continue;
    const double place = double(k) / kRows;
    peaks.push_back({contrast[std::size_t(k)] * smoother(rows, place), place, 0.0});
  }
  return peaks;
}

/// The step that may be a root: the best by contrast and smoothness of what lies before it, or
/// an earlier one that is nearly as good, for what broke may have steps of its own.
Step first_step(const std::vector<Row>& rows) {
  const std::vector<Step> peaks = peaks_of(rows);
  if (peaks.empty()) return {};
  double most = 0.0;
  for (const Step& peak : peaks) most = std::max(most, peak.contrast);
  const auto first_above = [&](double share) {
    const auto found = std::find_if(peaks.begin(), peaks.end(), [&](const Step& peak) {
      return peak.contrast >= std::max(std::min(kLeastContrast, most), share * most);
    });
    return found->place;
  };
  const double bold = first_above(0.35);
  const double likely = first_above(0.45);
  const double shy = first_above(0.6);
  return {most, likely, std::max(std::abs(bold - likely), std::abs(shy - likely)) / 2.0};
}

/// The root to a part of a row: where the light is half way between the strip and the face,
/// which blur does not move; nothing where the two are of one colour.
std::optional<double> half_way(const std::vector<Row>& rows, double place) {
  const int k = int(std::lround(place * kRows));
  constexpr int kSkip = 3;
  if (k - kWindow < 0 || k + kWindow > kRows) return {};
  cv::Vec3d before(0, 0, 0);
  cv::Vec3d after(0, 0, 0);
  constexpr double kCount = kWindow - kSkip;
  for (int i = kSkip; i < kWindow; ++i) {
    before += rows[std::size_t(k) - 1 - std::size_t(i)].light * (1.0 / kCount);
    after += rows[std::size_t(k) + std::size_t(i)].light * (1.0 / kCount);
  }
  const cv::Vec3d step = after - before;
  const double square = step.dot(step);
  const auto share = [&](int i) {
    return (rows[std::size_t(i)].light - before).dot(step) / square;
  };
  double scatter = 0.0;
  for (int i = kSkip; i < kWindow; ++i) {
    scatter += std::pow(share(k - 1 - i), 2) + std::pow(share(k + i) - 1.0, 2);
  }
  if (square < 1e-8 || std::sqrt(scatter / (2.0 * kCount)) > 0.25) return {};
  std::optional<double> nearest;
  for (int i = k - kSkip - 1; i < k + kSkip; ++i) {
    const double a = share(i) - 0.5;
    const double b = share(i + 1) - 0.5;
    if (a > 0.0 || b <= 0.0) continue;
    const double here = (i + 0.5 + a / (a - b)) / kRows;
    if (!nearest || std::abs(here - place) < std::abs(*nearest - place)) nearest = here;
  }
  return nearest;
}

/// Height of the bar along the inward normal of a side.
double depth_px(const std::array<Vector2d, 4>& corners, std::size_t side) {
  side %= 4;
  const Vector2d near = (corners[side] + corners[(side + 1) % 4]) / 2.0;
  const Vector2d far = (corners[(side + 2) % 4] + corners[(side + 3) % 4]) / 2.0;
  return (far - near).norm();
}

struct Root {
  double place = 0.0, u = 0.0;
};

/// Median of the strips' own roots, and its standard deviation from their scatter.
Root root_by_strips(const PlanePicture& plane,
                    const std::array<Vector2d, 4>& corners,
                    std::size_t side,
                    double near_place) {
  std::vector<double> places;
  for (int strip = 0; strip < kStrips; ++strip) {
    const double low = 0.06 + 0.88 * strip / kStrips;
    const auto rows = rows_from(plane, corners, side, {low, low + 0.88 / kStrips});
    const Step step = best_step(rows, near_place - 0.06, near_place + 0.06);
    if (step.contrast > 0.0) places.push_back(half_way(rows, step.place).value_or(step.place));
  }
  Root root{median_of(places), 0.0};
  std::vector<double> off;
  off.reserve(places.size());
  for (const double p : places) off.push_back(std::abs(p - root.place));
  // The median of n normal values scatters by 1.25 / sqrt(n); no row is told better than its
  // width.
  root.u = std::max(0.3 / kRows, 1.25 * 1.4826 * median_of(off) / std::sqrt(double(kStrips)));
  return root;
}

/// Two halves opened flat and still joined at their far sides: a longish outline with a root at
/// either end, about as deep.
bool hang_together(const std::array<Vector2d, 4>& corners,
                   const std::array<Step, 4>& steps,
                   std::size_t best) {
  const Step& near = steps[best];
  const Step& far = steps[(best + 2) % 4];
  const double beside =
      std::max(steps[(best + 1) % 4].contrast, steps[(best + 3) % 4].contrast);
  constexpr double kLonger = 1.2;  // than wide; a half is 10 mm by 4 to 10
  constexpr double kAsDeep = 0.04;
  constexpr double kDeepest = 0.3;  // of the way; a half's notch is a fifth, of both a tenth
  return depth_px(corners, best) > kLonger * depth_px(corners, best + 1) &&
         far.contrast > kLeastContrast && near.contrast > kLeastContrast &&
         std::min(near.contrast, far.contrast) > kClearer * beside &&
         std::max(near.place, far.place) < kDeepest &&
         std::abs(near.place - far.place) < kAsDeep;
}

}  // namespace

void find_notch(const PlanePicture& plane, SectionShape& shape) {
  const std::array<Vector2d, 4> corners = shape.broken_px;
  std::array<Step, 4> steps;
  for (std::size_t side = 0; side < 4; ++side) {
    steps[side] = first_step(rows_from(plane, corners, side, {0.08, 0.92}));
  }
  const auto best = std::size_t(
      std::max_element(steps.begin(),
                       steps.end(),
                       [](const Step& a, const Step& b) { return a.contrast < b.contrast; }) -
      steps.begin());
  double other = 0.0;
  for (std::size_t side = 0; side < 4; ++side) {
    if (side != best) other = std::max(other, steps[side].contrast);
  }
  shape.notch_contrast = steps[best].contrast;
  shape.joined = hang_together(corners, steps, best);
  if (shape.joined) return;
  shape.notch_found =
      steps[best].contrast > kLeastContrast && steps[best].contrast > kClearer * other;
  if (!shape.notch_found) return;
  const Root root = root_by_strips(plane, corners, best, steps[best].place);
  shape.notch_found = root.u < kMost_u;
  if (!shape.notch_found) return;
  std::rotate(
      shape.sides.begin(), shape.sides.begin() + std::ptrdiff_t(best), shape.sides.end());
  const double depth = depth_px(corners, best);
  shape.notch_depth_px = root.place * depth;
  shape.u_notch_depth_px = std::hypot(root.u, steps[best].doubt) * depth;
  const auto corner = [&](std::size_t i) { return corners[(best + i) % 4]; };
  shape.broken_px = {corner(0) + root.place * (corner(3) - corner(0)),
                     corner(1) + root.place * (corner(2) - corner(1)),
                     corner(2),
                     corner(3)};
}

}  // namespace swingloss
