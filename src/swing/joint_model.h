// SPDX-License-Identifier: Apache-2.0
/// \file joint_model.h
/// One pendulum behind all samples of a clip: what is asked, and what the law predicts.
#pragma once

#include "core/uncertain.h"
#include "swing/swing_law.h"

#include <optional>
#include <string>
#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// A stretch of free motion through one turning point. Pieces share zero, w0 and losses;
/// what joins them (a blow) is not modelled, so it cannot pull at either.
struct Piece {
  double amplitude_rad = 0.0;  ///< signed angle of the turning point from hanging rest
  double turn_s = 0.0;         ///< its time
  bool released = false;       ///< at rest at the amplitude before turn_s, not swinging
};

/// A sample that a piece must explain.
struct FitPoint {
  std::size_t sample = 0;  ///< index into the track
  std::size_t piece = 0;
  double t_s = 0.0, theta_rad = 0.0, u_rad = 0.0;
};

/// An angle known apart from the samples: the mean of a hold or of a rest, a latch. It speaks
/// for the amplitude of a piece, or, with `piece` -1, for hanging rest.
struct FitLevel {
  int piece = -1;
  double theta_rad = 0.0;     ///< in the track's angles
  double u_rad = 0.0;         ///< > 0
  Eigen::VectorXd shape_rad;  ///< what each doubt does to it; empty when none does
  std::string source;         ///< name under which its u goes into results
  SourceKind kind = SourceKind::Own;
};

/// Everything about one clip that goes into a fit, with starting values.
struct JointProblem {
  double zero_rad = 0.0;
  double natural_rad_per_s = 0.0;
  SwingLaw law;
  UncertainLaw law_prior;                  ///< a term without doubt is held fixed at its value
  std::optional<Uncertain> natural_prior;  ///< w0 as known apart from the track, in its time
  std::vector<Piece> pieces;
  std::vector<FitPoint> points;
  std::vector<FitLevel> levels;
  Eigen::MatrixXd shapes_rad;    ///< a row a point, a column a doubt, at the angles measured
  Eigen::MatrixXd shape_slopes;  ///< of each over the angle; of no size: all 0
  std::vector<std::string> doubt_sources;  ///< a name a column
  bool frame_known =
      false;  ///< zero, w0, losses and doubts are held fixed: pieces alone are fitted
  double max_step = 0.02;  ///< of the integration, in 1/w0
};

/// Where each unknown stands in the vector of parameters.
struct ParameterPlaces {
  explicit ParameterPlaces(const JointProblem& problem)
      : pieces(static_cast<Eigen::Index>(problem.pieces.size())),
        doubts(problem.shapes_rad.cols()) {}

  static constexpr Eigen::Index kZero = 0, kNatural = 1, kLaw = 2;
  [[nodiscard]] Eigen::Index amplitude(std::size_t piece) const {
    return 5 + 2 * static_cast<Eigen::Index>(piece);
  }
  [[nodiscard]] Eigen::Index turn(std::size_t piece) const { return amplitude(piece) + 1; }
  [[nodiscard]] Eigen::Index doubt(Eigen::Index j) const { return 5 + 2 * pieces + j; }
  [[nodiscard]] Eigen::Index count() const { return doubt(doubts); }

  Eigen::Index pieces = 0, doubts = 0;
};

/// The starting values as a vector.
[[nodiscard]] Eigen::VectorXd start_of(const JointProblem& problem);

/// A piece as the parameters have it.
[[nodiscard]] Piece piece_of(const JointProblem& problem,
                             const Eigen::VectorXd& parameters,
                             std::size_t piece);

/// What the law says of points and levels. With shape g stated at the angle measured and slope
/// g', and score s, a point at angle x of the law is predicted at y = x + s g(y), hence with
/// k = s g' at y = measured + (x + s g(measured) - measured) / (1 - k).
struct Prediction {
  Eigen::VectorXd theta_rad;        ///< a row a point, doubts included at the angle predicted
  Eigen::VectorXd omega_rad_per_s;  ///< likewise, in the track's time
  Eigen::MatrixXd jacobian;         ///< d theta / d parameters
  Eigen::VectorXd level_rad;
  Eigen::MatrixXd level_jacobian;
};

/// \return with derivatives; false in `defined` when the parameters are no pendulum
struct Predicted {
  bool defined = false;
  Prediction value;
};
[[nodiscard]] Predicted predict(const JointProblem& problem, const Eigen::VectorXd& parameters);

}  // namespace swingloss
