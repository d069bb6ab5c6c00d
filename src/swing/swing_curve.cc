// SPDX-License-Identifier: Apache-2.0
#include "swing/swing_curve.h"

#include "swing/swing_path.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

constexpr int kCurvePoints = 600;

/// A stretch of the curve on one piece.
struct Stretch {
  Piece piece;
  double from_s = 0.0, to_s = 0.0;
};

std::vector<Stretch> stretches_of(const Explained& e, const ClipStart& at) {
  const std::vector<FitPoint>& points = e.problem.points;
  double first_s = points.front().t_s;
  if (e.plan.fall.hold) first_s = e.track.samples[e.plan.fall.hold->begin].t_s;
  double last_s = first_s;
  for (const FitPoint& point : points) last_s = std::max(last_s, point.t_s);
  if (e.problem.pieces.size() < 2) return {{at.fall, first_s, last_s}};
  if (e.plan.fall.after == AfterFall::Rise) {
    return {{at.fall, first_s, e.plan.fall_bottom_s}, {at.after, e.plan.rise_bottom_s, last_s}};
  }
  double thrown_s = last_s;
  for (const FitPoint& point : points) {
    if (point.piece == 1) thrown_s = std::min(thrown_s, point.t_s);
  }
  return {{at.fall, first_s, e.plan.fall_bottom_s}, {at.after, thrown_s, last_s}};
}

void add_stretch(const Stretch& stretch,
                 const ClipStart& at,
                 double step_s,
                 SwingCurve& curve) {
  const double w0 = at.natural_rad_per_s;
  PathSpan span;
  span.after = std::max(0.0, (stretch.to_s - stretch.piece.turn_s) * w0);
  span.before = stretch.piece.released
                    ? 0.0
                    : std::max(0.0, (stretch.piece.turn_s - stretch.from_s) * w0);
  const SwingPath path(stretch.piece.amplitude_rad, at.law, span);
  const double length_s = std::max(0.0, stretch.to_s - stretch.from_s);
  const int n = std::max(2, static_cast<int>(std::ceil(length_s / step_s)) + 1);
  for (int i = 0; i < n; ++i) {
    const double t_s = stretch.from_s + length_s * i / (n - 1);
    curve.t_s.push_back(t_s);
    curve.theta_rad.push_back(path.at((t_s - stretch.piece.turn_s) * w0).theta_rad);
  }
}

}  // namespace

SwingCurve curve_of(const Explained& explained) {
  SwingCurve curve;
  const ClipStart at = start_from(explained.problem, explained.fit);
  const std::vector<Stretch> stretches = stretches_of(explained, at);
  const double whole_s = stretches.back().to_s - stretches.front().from_s;
  for (const Stretch& stretch : stretches) {
    add_stretch(stretch, at, std::max(whole_s, 1e-9) / kCurvePoints, curve);
  }
  for (std::size_t i = 0; i < explained.problem.points.size(); ++i) {
    if (!explained.fit.used[i]) continue;
    curve.residual_rad.push_back(explained.fit.residual_rad[static_cast<Eigen::Index>(i)]);
    curve.used_samples.push_back(
        explained.track.track_index[explained.problem.points[i].sample]);
  }
  return curve;
}

}  // namespace swingloss
