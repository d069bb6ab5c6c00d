// SPDX-License-Identifier: Apache-2.0
/// \file swing_path.h
/// The motion of a pendulum through one turning point, and how it hangs on its constants.
#pragma once

#include "swing/swing_law.h"

#include <optional>
#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// What a path is differentiated by, in this order.
enum PathParameter : int { kByAmplitude = 0, kByDry = 1, kByLinear = 2, kByQuadratic = 3 };
using PathGradient = Eigen::Vector4d;

/// One instant of a path. Time is s = w0 t, 0 at the turning point; dimensionless.
struct PathPoint {
  double s = 0.0;
  double theta_rad = 0.0;
  double omega = 0.0;  ///< d theta / d s
  PathGradient theta_by = PathGradient::Zero();
  PathGradient omega_by = PathGradient::Zero();
};

/// How far a path is wanted.
struct PathSpan {
  double before = 0.0;     ///< s units before the turning point, >= 0
  double after = 0.0;      ///< s units after it, >= 0
  double max_step = 0.01;  ///< of the integration; error 1e-9 rad at the default
                           ///< (tests/swing/swing_path_test.cc)
};

/// Integrates SwingLaw from rest at an amplitude, forward and back, by the classical
/// Runge-Kutta rule of fourth order. The dry term is smooth between turning points, so each is
/// located and the sign changed exactly there; where sin theta cannot overcome the dry torque
/// the pendulum sticks for good. Derivatives with respect to amplitude and loss terms are
/// integrated along and carried across the kink of the dry term.
class SwingPath {
 public:
  /// \param amplitude_rad  signed angle of the turning point at s = 0, within (-pi, pi)
  /// \throws std::logic_error  amplitude or span out of range, law not finite
  SwingPath(double amplitude_rad, const SwingLaw& law, const PathSpan& span);

  /// Interpolated between steps; held at the ends outside the span.
  [[nodiscard]] PathPoint at(double s) const;
  /// First instant after s = 0 at which theta is `theta_rad`; nothing if the span ends before.
  /// The gradients there are at fixed theta: theta_by is zero.
  [[nodiscard]] std::optional<PathPoint> first_after(double theta_rad) const;
  /// Last instant before s = 0 at which theta is `theta_rad`, likewise.
  [[nodiscard]] std::optional<PathPoint> last_before(double theta_rad) const;
  /// Turning points after s = 0, in order, that at s = 0 not among them.
  [[nodiscard]] std::vector<PathPoint> turns_after() const;
  /// When it stuck, if it did within the span.
  [[nodiscard]] std::optional<double> stuck_s() const { return stuck_s_; }

 private:
  [[nodiscard]] PathPoint between(std::size_t node, double s) const;
  [[nodiscard]] PathPoint crossing(std::size_t node, double theta_rad) const;

  SwingLaw law_;
  std::vector<PathPoint> nodes_;  ///< by growing s; a turning point is there twice
  std::size_t start_ = 0;         ///< the node at s = 0 from which the forward part begins
  std::optional<double> stuck_s_;
};

}  // namespace swingloss
