// SPDX-License-Identifier: Apache-2.0
#include "swing/shape_slopes.h"

#include <algorithm>
#include <cstddef>
#include <numeric>

namespace swingloss {
namespace {

constexpr double kWindow_rad = 0.1;
constexpr double kWindowOverRange = 1.0 / 16.0;
constexpr std::size_t kLeastBeside = 3;

using Index = Eigen::Index;

/// Sums over the first k samples in the order of angle, from which those of any stretch follow.
struct RunningSums {
  Eigen::VectorXd angle, square;
  Eigen::MatrixXd shape, cross;
};

RunningSums sums_of(const Eigen::VectorXd& theta_rad, const Eigen::MatrixXd& shapes_rad) {
  const Index n = theta_rad.size();
  RunningSums sums{Eigen::VectorXd::Zero(n + 1),
                   Eigen::VectorXd::Zero(n + 1),
                   Eigen::MatrixXd::Zero(n + 1, shapes_rad.cols()),
                   Eigen::MatrixXd::Zero(n + 1, shapes_rad.cols())};
  for (Index i = 0; i < n; ++i) {
    sums.angle[i + 1] = sums.angle[i] + theta_rad[i];
    sums.square[i + 1] = sums.square[i] + theta_rad[i] * theta_rad[i];
    sums.shape.row(i + 1) = sums.shape.row(i) + shapes_rad.row(i);
    sums.cross.row(i + 1) = sums.cross.row(i) + theta_rad[i] * shapes_rad.row(i);
  }
  return sums;
}

/// Of the straight lines through samples [begin, end).
Eigen::RowVectorXd slopes_within(const RunningSums& sums, Index begin, Index end) {
  const auto n = static_cast<double>(end - begin);
  const double mean = (sums.angle[end] - sums.angle[begin]) / n;
  const double spread = sums.square[end] - sums.square[begin] - n * mean * mean;
  const Eigen::RowVectorXd shape = sums.shape.row(end) - sums.shape.row(begin);
  const Eigen::RowVectorXd cross = sums.cross.row(end) - sums.cross.row(begin);
  constexpr double kAlike_rad = 1e-5;
  if (spread < n * kAlike_rad * kAlike_rad) return Eigen::RowVectorXd::Zero(shape.size());
  return (cross - mean * shape) / spread;
}

}  // namespace

Eigen::MatrixXd shape_slopes(const OrientedTrack& track) {
  const std::size_t n = track.samples.size();
  Eigen::MatrixXd slopes =
      Eigen::MatrixXd::Zero(track.shapes_rad.rows(), track.shapes_rad.cols());
  if (n < 2 * kLeastBeside + 1 || slopes.cols() == 0) return slopes;
  std::vector<Index> order(n);
  std::iota(order.begin(), order.end(), Index{0});
  const auto theta_of = [&](Index i) {
    return track.samples[static_cast<std::size_t>(i)].theta_rad;
  };
  std::sort(
      order.begin(), order.end(), [&](Index a, Index b) { return theta_of(a) < theta_of(b); });
  Eigen::VectorXd theta_rad(static_cast<Index>(n));
  for (std::size_t i = 0; i < n; ++i) theta_rad[static_cast<Index>(i)] = theta_of(order[i]);
  const double range_rad = theta_rad[theta_rad.size() - 1] - theta_rad[0];
  const double window_rad = std::min(kWindow_rad, kWindowOverRange * range_rad);
  // About the middle, so that sums of squares keep their digits.
  const double middle_rad = theta_rad.mean();
  const RunningSums sums =
      sums_of(theta_rad.array() - middle_rad, track.shapes_rad(order, Eigen::all));
  std::size_t begin = 0;
  std::size_t end = 0;
  for (std::size_t i = 0; i < n; ++i) {
    const double at_rad = theta_rad[static_cast<Index>(i)];
    while (theta_rad[static_cast<Index>(begin)] < at_rad - window_rad) ++begin;
    while (end < n && theta_rad[static_cast<Index>(end)] <= at_rad + window_rad) ++end;
    const std::size_t first = std::min(begin, i - std::min(i, kLeastBeside));
    const std::size_t past = std::max(end, std::min(n, i + kLeastBeside + 1));
    slopes.row(order[i]) =
        slopes_within(sums, static_cast<Index>(first), static_cast<Index>(past));
  }
  return slopes;
}

void set_shapes(const OrientedTrack& track, JointProblem& problem) {
  std::vector<Index> rows;
  rows.reserve(problem.points.size());
  for (const FitPoint& point : problem.points) rows.push_back(static_cast<Index>(point.sample));
  problem.doubt_sources = track.doubt_sources;
  problem.shapes_rad = track.shapes_rad(rows, Eigen::all);
  problem.shape_slopes = shape_slopes(track)(rows, Eigen::all);
}

}  // namespace swingloss
