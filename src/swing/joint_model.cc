// SPDX-License-Identifier: Apache-2.0
#include "swing/joint_model.h"

#include "core/angle.h"
#include "swing/swing_path.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

/// Points of one piece, and how far in time they reach.
PathSpan span_of(const JointProblem& problem, std::size_t piece, const Piece& at, double w0) {
  PathSpan span;
  span.max_step = problem.max_step;
  for (const FitPoint& point : problem.points) {
    if (point.piece != piece) continue;
    const double s = (point.t_s - at.turn_s) * w0;
    span.after = std::max(span.after, s);
    if (!at.released) span.before = std::max(span.before, -s);
  }
  return span;
}

/// More swings than this in one clip are no clip of a blow; a wild step of the fit is.
constexpr double kLongestSpan = 5000.0;

bool possible(const Piece& piece, const PathSpan& span) {
  return std::abs(piece.amplitude_rad) < kPi && std::isfinite(piece.turn_s) &&
         span.before < kLongestSpan && span.after < kLongestSpan;
}

void predict_piece(const JointProblem& problem,
                   const Eigen::VectorXd& parameters,
                   std::size_t piece,
                   const SwingPath& path,
                   Prediction& out) {
  const ParameterPlaces places(problem);
  const Piece at = piece_of(problem, parameters, piece);
  const double w0 = parameters[ParameterPlaces::kNatural];
  for (std::size_t i = 0; i < problem.points.size(); ++i) {
    if (problem.points[i].piece != piece) continue;
    const auto row = static_cast<Eigen::Index>(i);
    const double after_s = problem.points[i].t_s - at.turn_s;
    const PathPoint p = path.at(w0 * (at.released ? std::max(after_s, 0.0) : after_s));
    out.theta_rad[row] += parameters[ParameterPlaces::kZero] + p.theta_rad;
    out.omega_rad_per_s[row] = w0 * p.omega;
    out.jacobian(row, ParameterPlaces::kZero) = 1.0;
    out.jacobian(row, ParameterPlaces::kNatural) = p.omega * after_s;
    out.jacobian.row(row).segment<3>(ParameterPlaces::kLaw) = p.theta_by.tail<3>().transpose();
    out.jacobian(row, places.amplitude(piece)) = p.theta_by[kByAmplitude];
    out.jacobian(row, places.turn(piece)) = -w0 * p.omega;
  }
}

void predict_levels(const JointProblem& problem,
                    const Eigen::VectorXd& parameters,
                    Prediction& out) {
  const ParameterPlaces places(problem);
  const auto n = static_cast<Eigen::Index>(problem.levels.size());
  out.level_rad = Eigen::VectorXd::Constant(n, parameters[ParameterPlaces::kZero]);
  out.level_jacobian = Eigen::MatrixXd::Zero(n, places.count());
  for (Eigen::Index i = 0; i < n; ++i) {
    const FitLevel& level = problem.levels[static_cast<std::size_t>(i)];
    out.level_jacobian(i, ParameterPlaces::kZero) = 1.0;
    if (level.piece >= 0) {
      const Eigen::Index place = places.amplitude(static_cast<std::size_t>(level.piece));
      out.level_rad[i] += parameters[place];
      out.level_jacobian(i, place) = 1.0;
    }
    if (level.shape_rad.size() > 0) {
      out.level_jacobian.row(i).tail(places.doubts) = level.shape_rad.transpose();
      out.level_rad[i] += level.shape_rad.dot(parameters.tail(places.doubts));
    }
  }
}

/// Takes the shapes from the angles measured to those predicted. \return false where a doubt
/// would fold the angles over
bool carry_shapes(const JointProblem& problem,
                  const Eigen::VectorXd& parameters,
                  Prediction& out) {
  if (problem.shape_slopes.size() == 0) return true;
  constexpr double kLeastLeft = 0.1;
  const ParameterPlaces places(problem);
  const Eigen::VectorXd left =
      1.0 - (problem.shape_slopes * parameters.tail(places.doubts)).array();
  if (left.size() > 0 && left.minCoeff() < kLeastLeft) return false;
  for (Eigen::Index i = 0; i < left.size(); ++i) {
    const double measured_rad = problem.points[static_cast<std::size_t>(i)].theta_rad;
    const double off_rad = (out.theta_rad[i] - measured_rad) / left[i];
    out.theta_rad[i] = measured_rad + off_rad;
    out.jacobian.row(i).tail(places.doubts) += off_rad * problem.shape_slopes.row(i);
    out.jacobian.row(i) /= left[i];
  }
  return true;
}

}  // namespace

Eigen::VectorXd start_of(const JointProblem& problem) {
  const ParameterPlaces places(problem);
  Eigen::VectorXd x = Eigen::VectorXd::Zero(places.count());
  x[ParameterPlaces::kZero] = problem.zero_rad;
  x[ParameterPlaces::kNatural] = problem.natural_rad_per_s;
  x.segment<3>(ParameterPlaces::kLaw) = problem.law.vector();
  for (std::size_t k = 0; k < problem.pieces.size(); ++k) {
    x[places.amplitude(k)] = problem.pieces[k].amplitude_rad;
    x[places.turn(k)] = problem.pieces[k].turn_s;
  }
  return x;
}

Piece piece_of(const JointProblem& problem,
               const Eigen::VectorXd& parameters,
               std::size_t piece) {
  const ParameterPlaces places(problem);
  return {parameters[places.amplitude(piece)],
          parameters[places.turn(piece)],
          problem.pieces[piece].released};
}

Predicted predict(const JointProblem& problem, const Eigen::VectorXd& parameters) {
  const ParameterPlaces places(problem);
  const auto n = static_cast<Eigen::Index>(problem.points.size());
  const double w0 = parameters[ParameterPlaces::kNatural];
  Predicted result;
  if (!parameters.allFinite() || w0 <= 0.0) return result;
  Prediction& out = result.value;
  out.theta_rad = problem.shapes_rad * parameters.tail(places.doubts);
  out.omega_rad_per_s = Eigen::VectorXd::Zero(n);
  out.jacobian = Eigen::MatrixXd::Zero(n, places.count());
  out.jacobian.rightCols(places.doubts) = problem.shapes_rad;
  const SwingLaw law = SwingLaw::from(parameters.segment<3>(ParameterPlaces::kLaw));
  for (std::size_t k = 0; k < problem.pieces.size(); ++k) {
    const Piece at = piece_of(problem, parameters, k);
    const PathSpan span = span_of(problem, k, at, w0);
    if (!possible(at, span)) return result;
    predict_piece(problem, parameters, k, SwingPath(at.amplitude_rad, law, span), out);
  }
  predict_levels(problem, parameters, out);
  if (!carry_shapes(problem, parameters, out)) return result;
  result.defined = out.theta_rad.allFinite() && out.jacobian.allFinite();
  return result;
}

}  // namespace swingloss
