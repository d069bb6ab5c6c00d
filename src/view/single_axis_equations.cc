// SPDX-License-Identifier: Apache-2.0
#include "view/single_axis_equations.h"

#include "core/median.h"

#include <algorithm>
#include <cmath>

#include <Eigen/LU>

namespace swingloss {
namespace {

using Eigen::MatrixXd;
using Eigen::Vector2d;
using Eigen::Vector3d;
using Eigen::VectorXd;

/// A frame or point with fewer says nothing about its own scatter.
constexpr std::size_t kFewSightings = 6;

/// Sightings that lie within their own stated noise are in excess of nothing.
double excess_of(std::vector<double> ratios, double scale2) {
  if (ratios.size() < kFewSightings) return 1.0;
  return std::max(1.0, median_of(std::move(ratios)) / std::max(1.0, scale2));
}

/// What pulls a frame's sightings apart (a shadow beside the arm, something of its own tone
/// behind it) pulls many of them the same way, so such a frame is off by as much as they
/// scatter, however many they are: its weight falls with the square of its excess. A point
/// whose sightings scatter (an edge with a shadow of its own) likewise.
double believed(const SingleAxisScatter& scatter, const PointSighting& s) {
  const double excess = scatter.frame[static_cast<std::size_t>(s.frame)] *
                        scatter.point[static_cast<std::size_t>(s.point)];
  return 1.0 / (excess * excess);
}

/// A point of an edge may lie anywhere along it for all that its sightings say. Left alone it
/// slides away by tens of pixels, and a shift seen at one place of the arm is taken for one at
/// another, where it would be another turn.
/// \param off_px  of the point from its start \param at  where its unknowns begin
void hold_in_place(const Vector2d& off_px, Eigen::Index at, SingleAxisNormal& n) {
  constexpr double kSlide_u_px = 3.0;
  constexpr double kWeight = 1.0 / (kSlide_u_px * kSlide_u_px);
  n.common.diagonal().segment<2>(at).array() += kWeight;
  n.common_rhs.segment<2>(at) -= kWeight * off_px;
  n.cost += kWeight * off_px.squaredNorm();
}

double longest(const std::vector<Vector3d>& body) {
  double best = 1.0;
  for (const Vector3d& b : body) best = std::max(best, b.norm());
  return best;
}

}  // namespace

double cauchy_weight(double squared, double scale2) {
  return 1.0 / (1.0 + squared / (4.0 * scale2));
}

SingleAxisEquations::SingleAxisEquations(const SingleAxisProblem& problem,
                                         const SingleAxisOptions& options)
    : problem_(problem), options_(options), arm_px_(longest(problem.body_px)) {
  for (const PointSighting& s : problem.sightings) {
    const double trace = s.information.trace();
    const double directions = 1.0 + 4.0 * s.information.determinant() / (trace * trace);
    typical_square_.push_back(0.455 + 0.931 * (directions - 1.0));
    const double rate_rad_per_s =
        problem.omega_rad_per_s.empty()
            ? 0.0
            : problem.omega_rad_per_s[static_cast<std::size_t>(s.frame)];
    turn_by_readout_.push_back(rate_rad_per_s * problem.view.part_of_readout(s.pixel));
  }
}

SingleAxisState SingleAxisEquations::start() const {
  return {problem_.view, problem_.theta_rad, problem_.body_px};
}

Eigen::Index SingleAxisEquations::common_count() const {
  return kSharedCount + 3 * static_cast<Eigen::Index>(problem_.body_px.size());
}

double SingleAxisEquations::turn_rad(const SingleAxisState& state, std::size_t sighting) const {
  const auto frame = static_cast<std::size_t>(problem_.sightings[sighting].frame);
  return state.theta_rad[frame] + state.view.readout_s * turn_by_readout_[sighting];
}

std::vector<double> SingleAxisEquations::squares(const SingleAxisState& state) const {
  std::vector<double> out;
  out.reserve(problem_.sightings.size());
  const BodyProjection projection(state.view);
  for (std::size_t i = 0; i < problem_.sightings.size(); ++i) {
    const PointSighting& s = problem_.sightings[i];
    const Vector2d r =
        s.pixel - projection.pixel_of(state.body_px[static_cast<std::size_t>(s.point)],
                                      turn_rad(state, i));
    out.push_back(r.dot(s.information * r));
  }
  return out;
}

SingleAxisScatter SingleAxisEquations::trusting_scatter_at(const SingleAxisState& state) const {
  const std::vector<double> all = squares(state);
  SingleAxisScatter out;
  for (std::size_t i = 0; i < all.size(); ++i)
    out.scale2 += all[i] / (typical_square_[i] * static_cast<double>(all.size()));
  out.frame.assign(state.theta_rad.size(), 1.0);
  out.point.assign(state.body_px.size(), 1.0);
  return out;
}

SingleAxisScatter SingleAxisEquations::scatter_at(const SingleAxisState& state) const {
  std::vector<double> ratios = squares(state);
  std::vector<std::vector<double>> by_frame(state.theta_rad.size()),
      by_point(state.body_px.size());
  for (std::size_t i = 0; i < ratios.size(); ++i) {
    ratios[i] /= typical_square_[i];
    by_frame[static_cast<std::size_t>(problem_.sightings[i].frame)].push_back(ratios[i]);
    by_point[static_cast<std::size_t>(problem_.sightings[i].point)].push_back(ratios[i]);
  }
  SingleAxisScatter out;
  out.scale2 = std::max(1e-12, median_of(std::move(ratios)));
  for (auto& frame : by_frame) out.frame.push_back(excess_of(std::move(frame), out.scale2));
  for (auto& point : by_point) out.point.push_back(excess_of(std::move(point), out.scale2));
  return out;
}

void SingleAxisEquations::add_priors(const SingleAxisState& state,
                                     double scale2,
                                     SingleAxisNormal& n) const {
  const auto add = [&](Eigen::Index index, double off, double u) {
    // A poor fit must not make the priors strong: it may be poor because of them.
    const double w = std::min(scale2, 1.0) * options_.prior_count / (u * u);
    n.common(index, index) += w;
    n.common_rhs(index) -= w * off;
    n.cost += w * off * off;
  };
  if (options_.hold_tilt) {
    constexpr double kHeld_rad = 1e-6;
    add(2, state.view.tilt_x_rad - problem_.view.tilt_x_rad, kHeld_rad);
    add(3, state.view.tilt_y_rad - problem_.view.tilt_y_rad, kHeld_rad);
  } else {
    add(2, state.view.tilt_x_rad, options_.tilt_prior_rad);
    add(3, state.view.tilt_y_rad, options_.tilt_prior_rad);
  }
  if (options_.hold_readout) {
    constexpr double kHeld_s = 1e-9;
    add(kReadout, state.view.readout_s - problem_.view.readout_s, kHeld_s);
  } else {
    add(kReadout, state.view.readout_s, options_.readout_prior_s);
  }
  add(4, std::log(state.view.focal_px / options_.focal_prior_px), options_.focal_prior_log_u);
  const double u_depth = options_.depth_prior_ratio * arm_px_;
  double mean_z = 0.0, mean_turn = 0.0;
  const auto count = static_cast<double>(problem_.body_px.size());
  VectorXd turn = VectorXd::Zero(common_count());
  for (std::size_t i = 0; i < state.body_px.size(); ++i) {
    const auto at = kSharedCount + 3 * static_cast<Eigen::Index>(i);
    add(at + 2, state.body_px[i].z(), u_depth);
    hold_in_place(state.body_px[i].head<2>() - problem_.body_px[i].head<2>(), at, n);
    mean_z += state.body_px[i].z() / count;
    // A common turn of all points is the zero of the angle: a convention, so held at its start.
    const Vector3d& b0 = problem_.body_px[i];
    turn(at) = b0.y() / (arm_px_ * count);
    turn(at + 1) = -b0.x() / (arm_px_ * count);
    mean_turn += turn(at) * (state.body_px[i].x() - b0.x()) +
                 turn(at + 1) * (state.body_px[i].y() - b0.y());
  }
  const double stiff = 1e10;
  n.common += stiff * turn * turn.transpose();
  n.common_rhs -= stiff * mean_turn * turn;
  n.cost += stiff * mean_turn * mean_turn;
  // Likewise the mean depth: it is the same thing as a shift of the axle along its own picture.
  VectorXd depth = VectorXd::Zero(common_count());
  for (std::size_t i = 0; i < state.body_px.size(); ++i) {
    depth(kSharedCount + 3 * static_cast<Eigen::Index>(i) + 2) = 1.0 / count;
  }
  n.common += stiff * depth * depth.transpose();
  n.common_rhs -= stiff * mean_z * depth;
  n.cost += stiff * mean_z * mean_z;
}

SingleAxisNormal SingleAxisEquations::normal_at(const SingleAxisState& state,
                                                const SingleAxisScatter& scatter) const {
  const Eigen::Index common = common_count();
  const auto frames = static_cast<Eigen::Index>(state.theta_rad.size());
  SingleAxisNormal n{MatrixXd::Zero(common, common),
                     VectorXd::Zero(common),
                     VectorXd::Zero(frames),
                     VectorXd::Zero(frames),
                     MatrixXd::Zero(common, frames),
                     0.0};
  const BodyProjection projection(state.view);
  for (std::size_t i = 0; i < problem_.sightings.size(); ++i) {
    const PointSighting& s = problem_.sightings[i];
    const auto k = static_cast<Eigen::Index>(s.frame);
    const auto at = kSharedCount + 3 * static_cast<Eigen::Index>(s.point);
    const ProjectedPoint p =
        projection(state.body_px[static_cast<std::size_t>(s.point)], turn_rad(state, i));
    const Vector2d r = s.pixel - p.pixel;
    const double square = r.dot(s.information * r);
    const double weight = believed(scatter, s), scale2 = scatter.cauchy_scale2();
    const Eigen::Matrix2d w = weight * s.information * cauchy_weight(square, scale2);
    n.cost += weight * 4.0 * scale2 * std::log1p(square / (4.0 * scale2));
    Eigen::Matrix<double, 2, kSharedCount> by_shared;
    by_shared << p.by_view, p.by_theta * turn_by_readout_[i];
    const Eigen::Matrix<double, kSharedCount, 2> vw = by_shared.transpose() * w;
    const Eigen::Matrix<double, 3, 2> bw = p.by_body.transpose() * w;
    const Eigen::RowVector2d tw = p.by_theta.transpose() * w;
    n.common.topLeftCorner<kSharedCount, kSharedCount>() += vw * by_shared;
    const Eigen::Matrix<double, kSharedCount, 3> cross = vw * p.by_body;
    n.common.block<kSharedCount, 3>(0, at) += cross;
    n.common.block<3, kSharedCount>(at, 0) += cross.transpose();
    n.common.block<3, 3>(at, at) += bw * p.by_body;
    n.common_rhs.head<kSharedCount>() += vw * r;
    n.common_rhs.segment<3>(at) += bw * r;
    n.angle(k) += tw * p.by_theta;
    n.angle_rhs(k) += tw * r;
    n.mixed.col(k).head<kSharedCount>() += (tw * by_shared).transpose();
    n.mixed.col(k).segment<3>(at) += (tw * p.by_body).transpose();
  }
  add_priors(state, scatter.scale2, n);
  return n;
}

double SingleAxisEquations::cost_at(const SingleAxisState& state,
                                    const SingleAxisScatter& scatter) const {
  double cost = 0.0;
  const std::vector<double> all = squares(state);
  const double scale2 = scatter.cauchy_scale2();
  for (std::size_t i = 0; i < all.size(); ++i) {
    cost += believed(scatter, problem_.sightings[i]) * 4.0 * scale2 *
            std::log1p(all[i] / (4.0 * scale2));
  }
  const Eigen::Index common = common_count();
  SingleAxisNormal priors{
      MatrixXd::Zero(common, common), VectorXd::Zero(common), {}, {}, {}, 0.0};
  add_priors(state, scatter.scale2, priors);
  return cost + priors.cost;
}

}  // namespace swingloss
