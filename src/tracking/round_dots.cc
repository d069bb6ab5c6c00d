// SPDX-License-Identifier: Apache-2.0
#include "tracking/round_dots.h"

#include "core/angle.h"
#include "tracking/dot_centre.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

/// A sticker differs from the arm by this much at least; holes and screw heads mostly do not.
constexpr double kLeastContrast_levels = 60.0;
constexpr int kSpokes = 16;
constexpr double kReach = 2.2;  ///< of the neighbourhood, in radii

double look_at(const cv::Mat& look, double x, double y) {
  const int ix = int(std::floor(x)), iy = int(std::floor(y));
  if (ix < 0 || iy < 0 || ix + 1 >= look.cols || iy + 1 >= look.rows) return -1e6;
  const double fx = x - ix, fy = y - iy;
  return (1 - fy) * ((1 - fx) * double(look.at<float>(iy, ix)) +
                     fx * double(look.at<float>(iy, ix + 1))) +
         fy * ((1 - fx) * double(look.at<float>(iy + 1, ix)) +
               fx * double(look.at<float>(iy + 1, ix + 1)));
}

/// Smallest step, over the spokes, from a circle of `inner` to one of `outer`; 0 when the sign
/// changes on the way round: then it is an edge or a bar, not a dot.
double round_step(const cv::Mat& look, double x, double y, double inner, double outer) {
  double least = 1e9;
  int sign = 0;
  for (int i = 0; i < kSpokes; ++i) {
    const double c = std::cos(2.0 * kPi * i / kSpokes), s = std::sin(2.0 * kPi * i / kSpokes);
    const double step = look_at(look, x + outer * c, y + outer * s) -
                        look_at(look, x + inner * c, y + inner * s);
    if (std::abs(step) > 1e5) return 0.0;
    const int now = step > 0.0 ? 1 : -1;
    if (sign != 0 && now != sign) return 0.0;
    sign = now;
    least = std::min(least, std::abs(step));
  }
  return least;
}

struct Candidate {
  RoundDot dot;
  double contrast;
};

/// Adds every radius at which a place looks like a dot.
void add_candidates(const BodyTemplate& body,
                    const cv::Mat& look,
                    cv::Point at,
                    std::vector<Candidate>& candidates) {
  const double bx = at.x - body.extent.half_width_px, by = at.y - body.extent.behind_px;
  const double arm = body.extent.ahead_px;
  if (std::hypot(bx, by) < 0.2 * arm) return;
  double r = 2.5;
  while (r < 0.06 * arm) {
    const double contrast = round_step(look, at.x, at.y, 0.4 * r, 1.3 * r);
    if (contrast > kLeastContrast_levels)
      candidates.push_back({{bx, by, kReach * r, 0.0}, contrast});
    r *= 1.3;
  }
}

/// Between pixels, where the look shows the centre well enough: with the window about which the
/// surroundings are most even.
RoundDot centred(const BodyTemplate& body, const cv::Mat& look, const RoundDot& dot) {
  constexpr double kSmallest = 0.8, kStep = 1.1;  // of windows, in radii
  constexpr int kWindows = 9;                     // the largest is 1.7 radii
  const cv::Point2d at = body.pixel_of(dot.bx_px, dot.by_px);
  RoundDot best = dot;
  best.window_px = 0.0;
  double least_u_px = 1e9;
  const double radius_px = dot.reach_px / kReach;
  for (int i = 0; i < kWindows; ++i) {
    const double window_px = kSmallest * std::pow(kStep, i) * radius_px;
    const auto centre = dot_centre(look, {{at.x, at.y}, window_px});
    if (!centre || centre->u_px >= least_u_px) continue;
    least_u_px = centre->u_px;
    best.bx_px = dot.bx_px + centre->pixel.x() - at.x;
    best.by_px = dot.by_px + centre->pixel.y() - at.y;
    best.window_px = window_px;
  }
  return best;
}

/// As seen before a plain background: a white ring on a white wall has no ink of its own.
cv::Mat before_plain_ground(const BodyTemplate& body) {
  return body.ink + (1.0 - body.cover) * body.behind_light;
}

}  // namespace

std::vector<RoundDot> find_round_dots(const BodyTemplate& body) {
  const cv::Mat look = before_plain_ground(body);
  std::vector<Candidate> candidates;
  for (int row = 4; row + 4 < body.ink.rows; ++row) {
    for (int column = 4; column + 4 < body.ink.cols; ++column)
      add_candidates(body, look, {column, row}, candidates);
  }
  std::stable_sort(
      candidates.begin(), candidates.end(), [](const Candidate& a, const Candidate& b) {
        return a.contrast > b.contrast;
      });
  std::vector<RoundDot> dots;
  for (const Candidate& c : candidates) {
    const bool apart = std::all_of(dots.begin(), dots.end(), [&](const RoundDot& d) {
      return std::hypot(d.bx_px - c.dot.bx_px, d.by_px - c.dot.by_px) >
             1.5 * (d.reach_px + c.dot.reach_px);
    });
    if (apart && dots.size() < 8) dots.push_back(c.dot);
  }
  return dots;
}

void centre_dots(BodyTemplate& body) {
  if (body.dots.empty()) return;
  const cv::Mat look = before_plain_ground(body);
  for (RoundDot& dot : body.dots) dot = centred(body, look, dot);
}

}  // namespace swingloss
