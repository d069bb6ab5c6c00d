// SPDX-License-Identifier: Apache-2.0
#include "view/single_axis_fit.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>

namespace swingloss {
namespace {

using Eigen::MatrixXd;
using Eigen::Vector2d;
using Eigen::Vector3d;
using Eigen::VectorXd;

constexpr int kViewCount = 5;

/// Everything that is solved for.
struct State {
  SwingView view;
  std::vector<double> theta_rad;
  std::vector<Vector3d> body_px;
};

/// Normal equations with the angles, which meet only in their own frame, kept apart.
struct Normal {
  MatrixXd common;  // view and body, prior included
  VectorXd common_rhs;
  VectorXd angle;  // one diagonal entry a frame
  VectorXd angle_rhs;
  MatrixXd mixed;  // frame x common
  double cost = 0.0;
};

double median_of(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

double cauchy_weight(double squared, double scale2) {
  return 1.0 / (1.0 + squared / (4.0 * scale2));
}

class Solver {
 public:
  Solver(const SingleAxisProblem& problem, const SingleAxisOptions& options)
      : problem_(problem), options_(options), arm_px_(longest(problem.body_px)) {}

  [[nodiscard]] State start() const {
    return {problem_.view, problem_.theta_rad, problem_.body_px};
  }

  /// Normalised squared residual of each sighting.
  [[nodiscard]] std::vector<double> squares(const State& state) const {
    std::vector<double> out;
    out.reserve(problem_.sightings.size());
    for (const PointSighting& s : problem_.sightings) {
      const Vector2d r = s.pixel - pixel_of(state, s);
      out.push_back(r.dot(s.information * r));
    }
    return out;
  }

  /// Median of the normalised squares, each over the median that chi-square would have with the
  /// sighting's own count of directions: 1 for an edge, 2 for a corner, between for in between.
  [[nodiscard]] double scale2_of(const std::vector<double>& squares) const {
    std::vector<double> ratios;
    for (std::size_t i = 0; i < squares.size(); ++i) {
      const Eigen::Matrix2d& information = problem_.sightings[i].information;
      const double trace = information.trace();
      const double directions = 1.0 + 4.0 * information.determinant() / (trace * trace);
      ratios.push_back(squares[i] / (0.455 + 0.931 * (directions - 1.0)));
    }
    return std::max(1e-12, median_of(ratios));
  }

  [[nodiscard]] Normal normal_at(const State& state, double scale2) const;
  [[nodiscard]] double cost_at(const State& state, double scale2) const;
  [[nodiscard]] State stepped(const State& state,
                              const VectorXd& common,
                              const VectorXd& angle) const;
  [[nodiscard]] bool minimise(State& state, double& scale2) const;
  [[nodiscard]] SingleAxisFit answer(const State& state, double scale2) const;

 private:
  [[nodiscard]] static double longest(const std::vector<Vector3d>& body) {
    double best = 1.0;
    for (const Vector3d& b : body) best = std::max(best, b.norm());
    return best;
  }
  [[nodiscard]] Vector2d pixel_of(const State& state, const PointSighting& s) const {
    return state.view.project(
        swing_from_body(state.body_px[static_cast<std::size_t>(s.point)],
                        state.theta_rad[static_cast<std::size_t>(s.frame)]));
  }
  [[nodiscard]] Eigen::Index common_count() const {
    return kViewCount + 3 * static_cast<Eigen::Index>(problem_.body_px.size());
  }
  void add_priors(const State& state, double scale2, Normal& n) const;

  const SingleAxisProblem& problem_;
  const SingleAxisOptions& options_;
  double arm_px_;
};

void Solver::add_priors(const State& state, double scale2, Normal& n) const {
  const auto add = [&](Eigen::Index index, double off, double u) {
    // A poor fit must not make the priors strong: it may be poor because of them.
    const double w = std::min(scale2, 1.0) * options_.prior_count / (u * u);
    n.common(index, index) += w;
    n.common_rhs(index) -= w * off;
    n.cost += w * off * off;
  };
  add(2, state.view.tilt_x_rad, options_.tilt_prior_rad);
  add(3, state.view.tilt_y_rad, options_.tilt_prior_rad);
  add(4, std::log(state.view.focal_px / options_.focal_prior_px), options_.focal_prior_log_u);
  const double u_depth = options_.depth_prior_ratio * arm_px_;
  double mean_z = 0.0, mean_turn = 0.0;
  const auto count = static_cast<double>(problem_.body_px.size());
  VectorXd turn = VectorXd::Zero(common_count());
  for (std::size_t i = 0; i < state.body_px.size(); ++i) {
    const auto at = kViewCount + 3 * static_cast<Eigen::Index>(i);
    add(at + 2, state.body_px[i].z(), u_depth);
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
    depth(kViewCount + 3 * static_cast<Eigen::Index>(i) + 2) = 1.0 / count;
  }
  n.common += stiff * depth * depth.transpose();
  n.common_rhs -= stiff * mean_z * depth;
  n.cost += stiff * mean_z * mean_z;
}

Normal Solver::normal_at(const State& state, double scale2) const {
  const Eigen::Index common = common_count();
  const auto frames = static_cast<Eigen::Index>(state.theta_rad.size());
  Normal n{MatrixXd::Zero(common, common),
           VectorXd::Zero(common),
           VectorXd::Zero(frames),
           VectorXd::Zero(frames),
           MatrixXd::Zero(frames, common),
           0.0};
  for (const PointSighting& s : problem_.sightings) {
    const auto k = static_cast<Eigen::Index>(s.frame);
    const auto at = kViewCount + 3 * static_cast<Eigen::Index>(s.point);
    const ProjectedPoint p = project_body(state.view,
                                          state.body_px[static_cast<std::size_t>(s.point)],
                                          state.theta_rad[static_cast<std::size_t>(s.frame)]);
    const Vector2d r = s.pixel - p.pixel;
    const double square = r.dot(s.information * r);
    const Eigen::Matrix2d w = s.information * cauchy_weight(square, scale2);
    n.cost += 4.0 * scale2 * std::log1p(square / (4.0 * scale2));
    const Eigen::Matrix<double, 5, 2> vw = p.by_view.transpose() * w;
    const Eigen::Matrix<double, 3, 2> bw = p.by_body.transpose() * w;
    const Eigen::RowVector2d tw = p.by_theta.transpose() * w;
    n.common.topLeftCorner<kViewCount, kViewCount>() += vw * p.by_view;
    const Eigen::Matrix<double, 5, 3> cross = vw * p.by_body;
    n.common.block<kViewCount, 3>(0, at) += cross;
    n.common.block<3, kViewCount>(at, 0) += cross.transpose();
    n.common.block<3, 3>(at, at) += bw * p.by_body;
    n.common_rhs.head<kViewCount>() += vw * r;
    n.common_rhs.segment<3>(at) += bw * r;
    n.angle(k) += tw * p.by_theta;
    n.angle_rhs(k) += tw * r;
    n.mixed.row(k).head<kViewCount>() += tw * p.by_view;
    n.mixed.row(k).segment<3>(at) += tw * p.by_body;
  }
  add_priors(state, scale2, n);
  return n;
}

double Solver::cost_at(const State& state, double scale2) const {
  double cost = 0.0;
  for (double square : squares(state))
    cost += 4.0 * scale2 * std::log1p(square / (4.0 * scale2));
  const Eigen::Index common = common_count();
  Normal priors{MatrixXd::Zero(common, common), VectorXd::Zero(common), {}, {}, {}, 0.0};
  add_priors(state, scale2, priors);
  return cost + priors.cost;
}

State Solver::stepped(const State& state, const VectorXd& common, const VectorXd& angle) const {
  State out = state;
  out.view.axle_px += common.head<2>();
  out.view.tilt_x_rad += common(2);
  out.view.tilt_y_rad += common(3);
  out.view.focal_px *= std::exp(std::clamp(common(4), -0.5, 0.5));
  for (std::size_t i = 0; i < out.body_px.size(); ++i) {
    out.body_px[i] += common.segment<3>(kViewCount + 3 * static_cast<Eigen::Index>(i));
  }
  for (std::size_t k = 0; k < out.theta_rad.size(); ++k) {
    out.theta_rad[k] += angle(static_cast<Eigen::Index>(k));
  }
  return out;
}

/// Levenberg's damping on the reduced system; the angles follow from the view and the body.
bool Solver::minimise(State& state, double& scale2) const {
  double damping = 1e-6;
  for (int iteration = 0; iteration < options_.max_iterations; ++iteration) {
    scale2 = scale2_of(squares(state));
    const Normal n = normal_at(state, scale2);
    const VectorXd inverse_angle = (n.angle.array() + 1e-9).inverse();
    bool better = false;
    double relative = 0.0;
    for (int attempt = 0; attempt < 8 && !better; ++attempt) {
      MatrixXd reduced = n.common - n.mixed.transpose() * inverse_angle.asDiagonal() * n.mixed;
      reduced.diagonal() += damping * n.common.diagonal();
      const VectorXd rhs =
          n.common_rhs - n.mixed.transpose() * (inverse_angle.asDiagonal() * n.angle_rhs);
      const VectorXd common = reduced.ldlt().solve(rhs);
      if (!common.allFinite()) return false;
      const VectorXd angle = inverse_angle.asDiagonal() * (n.angle_rhs - n.mixed * common);
      const State next = stepped(state, common, angle);
      const double cost = cost_at(next, scale2);
      if (cost < n.cost) {
        relative = (n.cost - cost) / std::max(n.cost, 1e-30);
        state = next;
        better = true;
        damping = std::max(1e-9, damping * 0.2);
      } else {
        damping *= 10.0;
      }
    }
    if (!better || relative < 1e-9) break;
  }
  scale2 = scale2_of(squares(state));
  return true;
}

SingleAxisFit Solver::answer(const State& state, double scale2) const {
  const Normal n = normal_at(state, scale2);
  const VectorXd inverse_angle = (n.angle.array() + 1e-9).inverse();
  const MatrixXd response = inverse_angle.asDiagonal() * n.mixed;
  const MatrixXd reduced = n.common - n.mixed.transpose() * response;
  const MatrixXd covariance =
      scale2 * options_.alike_count *
      reduced.ldlt().solve(MatrixXd::Identity(reduced.rows(), reduced.cols()));

  SingleAxisFit fit;
  fit.view = state.view;
  fit.theta_rad = state.theta_rad;
  fit.body_px = state.body_px;
  fit.scatter = std::sqrt(scale2);
  fit.view_covariance = covariance.topLeftCorner<kViewCount, kViewCount>();
  for (Eigen::Index k = 0; k < n.angle.size(); ++k) {
    fit.u_theta_rad.push_back(std::sqrt(scale2 * inverse_angle(k)));
  }
  for (double square : squares(state))
    fit.sighting_weight.push_back(cauchy_weight(square, scale2));

  const Eigen::SelfAdjointEigenSolver<MatrixXd> eigen(response * covariance *
                                                      response.transpose());
  const double total = std::max(0.0, eigen.eigenvalues().sum());
  Eigen::Index kept = 0;
  double rest = total;
  while (kept < eigen.eigenvalues().size() && kept < 12 && rest > 1e-4 * total) {
    rest -= eigen.eigenvalues()(eigen.eigenvalues().size() - 1 - kept);
    ++kept;
  }
  fit.theta_doubt_rad = MatrixXd(n.angle.size(), kept);
  for (Eigen::Index j = 0; j < kept; ++j) {
    const Eigen::Index from = eigen.eigenvalues().size() - 1 - j;
    fit.theta_doubt_rad.col(j) =
        std::sqrt(std::max(0.0, eigen.eigenvalues()(from))) * eigen.eigenvectors().col(from);
  }
  return fit;
}

}  // namespace

Result<SingleAxisFit> fit_single_axis(const SingleAxisProblem& problem,
                                      const SingleAxisOptions& options) {
  expects(options.focal_prior_px > 0.0, "fit_single_axis: focal_prior_px must be positive");
  expects(!problem.sightings.empty(), "fit_single_axis: no sightings");
  const Solver solver(problem, options);
  State best = solver.start();
  double scale2 = 1.0;
  if (!solver.minimise(best, scale2)) {
    return Failure{"view-not-solved",
                   "the points' paths do not form turns about one axle",
                   "film with the camera still and the whole swing in the picture"};
  }
  // The mirror choice of the tilt: the other one fits ellipses as well, but not the
  // perspective.
  State other = best;
  other.view.tilt_x_rad *= -1.0;
  other.view.tilt_y_rad *= -1.0;
  double other_scale2 = 1.0;
  if (solver.minimise(other, other_scale2) &&
      solver.cost_at(other, scale2) < solver.cost_at(best, scale2)) {
    best = other;
    scale2 = other_scale2;
  }
  return solver.answer(best, scale2);
}

}  // namespace swingloss
