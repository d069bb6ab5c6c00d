// SPDX-License-Identifier: Apache-2.0
#include "swing/swing_path.h"

#include "core/angle.h"
#include "core/expects.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

/// Row 0 theta, row 1 omega; column 0 the motion, columns 1 to 4 its derivatives.
using State = Eigen::Matrix<double, 2, 5>;

double sign_of(double x) { return x > 0.0 ? 1.0 : (x < 0.0 ? -1.0 : 0.0); }

/// The right-hand side for motion in the direction `sign`.
State slope(const State& x, double sign, const SwingLaw& law) {
  const double theta = x(0, 0);
  const double omega = x(1, 0);
  const double drag = omega * std::abs(omega);
  State dx;
  dx.row(0) = x.row(1);
  dx(1, 0) = -std::sin(theta) - law.dry * sign - law.linear * omega - law.quadratic * drag;
  const double by_theta = -std::cos(theta);
  const double by_omega = -law.linear - 2.0 * law.quadratic * std::abs(omega);
  dx.block<1, 4>(1, 1) = by_theta * x.block<1, 4>(0, 1) + by_omega * x.block<1, 4>(1, 1);
  dx(1, 1 + kByDry) -= sign;
  dx(1, 1 + kByLinear) -= omega;
  dx(1, 1 + kByQuadratic) -= drag;
  return dx;
}

State stepped(const State& x, double h, double sign, const SwingLaw& law) {
  const State k1 = slope(x, sign, law);
  const State k2 = slope(x + 0.5 * h * k1, sign, law);
  const State k3 = slope(x + 0.5 * h * k2, sign, law);
  const State k4 = slope(x + h * k3, sign, law);
  return x + h / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4);
}

PathPoint point_of(double s, const State& x) {
  PathPoint point;
  point.s = s;
  point.theta_rad = x(0, 0);
  point.omega = x(1, 0);
  point.theta_by = x.block<1, 4>(0, 1).transpose();
  point.omega_by = x.block<1, 4>(1, 1).transpose();
  return point;
}

/// Runs from rest in one direction of time.
class Run {
 public:
  Run(double amplitude_rad, const SwingLaw& law, double max_step) : law_(law), h_(max_step) {
    x_.setZero();
    x_(0, 0) = amplitude_rad;
    x_(0, 1 + kByAmplitude) = 1.0;
    // Forward the arm falls inward, back in time it came outward.
    sign_ = h_ > 0.0 ? -sign_of(amplitude_rad) : sign_of(amplitude_rad);
    nodes_.push_back(point_of(0.0, x_));
    if (h_ > 0.0) stick_if_held();
  }

  void to(double end) {
    if (sign_ == 0.0) return;
    const auto steps = static_cast<int>(std::ceil(std::abs(end / h_) - 1e-9));
    const double h = steps > 0 ? end / steps : 0.0;
    nodes_.reserve(static_cast<std::size_t>(1.1 * steps) + 16);
    for (int i = 1; i <= steps && !stuck_s_; ++i) {
      double left = i * h - s_;
      // A turning point splits a step; the rest of it follows in the other direction.
      for (int split = 0; split < 4 && left * h > 0.0 && !stuck_s_; ++split) {
        left = advance(left);
      }
    }
  }

  [[nodiscard]] const std::vector<PathPoint>& nodes() const { return nodes_; }
  [[nodiscard]] std::optional<double> stuck_s() const { return stuck_s_; }

 private:
  /// One step of `h`, or the part of it before the arm turns. \return what is left of it
  double advance(double h) {
    const State next = stepped(x_, h, sign_, law_);
    if (next(1, 0) * sign_ > 0.0) {
      accept(s_ + h, next);
      return 0.0;
    }
    const double part = part_to_turn(h);
    accept(s_ + part, stepped(x_, part, sign_, law_));
    turn();
    return h - part;
  }

  /// Regula falsi with halving (Illinois): omega keeps its sign at 0 and has lost it at h.
  [[nodiscard]] double part_to_turn(double h) const {
    double low = 0.0;
    double high = h;
    double omega_low = x_(1, 0);
    double omega_high = stepped(x_, h, sign_, law_)(1, 0);
    if (omega_low * sign_ <= 0.0) return h;
    for (int i = 0; i < 60 && std::abs(high - low) > 1e-15; ++i) {
      const double middle = low - omega_low * (high - low) / (omega_high - omega_low);
      const double omega = stepped(x_, middle, sign_, law_)(1, 0);
      if (omega == 0.0) return middle;
      if (omega * sign_ > 0.0) {
        low = middle;
        omega_low = omega;
        omega_high *= 0.5;
      } else {
        high = middle;
        omega_high = omega;
        omega_low *= 0.5;
      }
    }
    return 0.5 * (low + high);
  }

  void accept(double s, const State& x) {
    s_ = s;
    x_ = x;
    nodes_.push_back(point_of(s_, x_));
  }

  /// At rest for an instant: the dry torque changes its sign, and with it the acceleration a.
  /// The instant itself moves with the parameters by -omega_p / a, hence
  /// omega_p after = omega_p before * a_after / a_before.
  void turn() {
    x_(1, 0) = 0.0;
    nodes_.back().omega = 0.0;
    const double before = slope(x_, sign_, law_)(1, 0);
    const double after = slope(x_, -sign_, law_)(1, 0);
    if (h_ > 0.0 && stick_if_held()) return;
    x_.block<1, 4>(1, 1) *= after / before;
    sign_ = -sign_;
    nodes_.push_back(point_of(s_, x_));
  }

  bool stick_if_held() {
    if (std::abs(std::sin(x_(0, 0))) > law_.dry) return false;
    x_.row(1).setZero();
    stuck_s_ = s_;
    nodes_.push_back(point_of(s_, x_));
    return true;
  }

  SwingLaw law_;
  double h_ = 0.0;
  double s_ = 0.0;
  double sign_ = 0.0;
  State x_;
  std::vector<PathPoint> nodes_;
  std::optional<double> stuck_s_;
};

}  // namespace

SwingPath::SwingPath(double amplitude_rad, const SwingLaw& law, const PathSpan& span)
    : law_(law) {
  expects(std::abs(amplitude_rad) < kPi, "the amplitude of a swing is not within half a turn");
  expects(law.vector().allFinite(), "the loss terms of a swing are not finite");
  expects(span.before >= 0.0 && span.after >= 0.0 && span.max_step > 0.0,
          "the span of a swing is negative or its step not positive");
  Run back(amplitude_rad, law, -span.max_step);
  back.to(-span.before);
  Run forth(amplitude_rad, law, span.max_step);
  forth.to(span.after);
  nodes_.assign(back.nodes().rbegin(), back.nodes().rend());
  start_ = nodes_.size();
  nodes_.insert(nodes_.end(), forth.nodes().begin(), forth.nodes().end());
  stuck_s_ = forth.stuck_s();
}

/// Cubic through both ends with their slopes; error h^4/384 of the fourth derivative.
PathPoint SwingPath::between(std::size_t node, double s) const {
  const PathPoint& a = nodes_[node];
  const PathPoint& b = nodes_[node + 1];
  const double h = b.s - a.s;
  if (h <= 0.0) return b;
  const double x = (s - a.s) / h;
  const double value_a = (1.0 + 2.0 * x) * (1.0 - x) * (1.0 - x);
  const double value_b = x * x * (3.0 - 2.0 * x);
  const double slope_a = h * x * (1.0 - x) * (1.0 - x);
  const double slope_b = h * x * x * (x - 1.0);
  const double rate = 6.0 * x * (1.0 - x) / h;
  const double rate_a = (1.0 - x) * (1.0 - 3.0 * x);
  const double rate_b = x * (3.0 * x - 2.0);
  PathPoint p;
  p.s = s;
  p.theta_rad =
      value_a * a.theta_rad + value_b * b.theta_rad + slope_a * a.omega + slope_b * b.omega;
  p.omega = rate * (b.theta_rad - a.theta_rad) + rate_a * a.omega + rate_b * b.omega;
  p.theta_by =
      value_a * a.theta_by + value_b * b.theta_by + slope_a * a.omega_by + slope_b * b.omega_by;
  p.omega_by = rate * (b.theta_by - a.theta_by) + rate_a * a.omega_by + rate_b * b.omega_by;
  return p;
}

PathPoint SwingPath::at(double s) const {
  if (s <= nodes_.front().s || nodes_.size() < 2) return nodes_.front();
  if (s >= nodes_.back().s) return nodes_.back();
  const auto next = std::upper_bound(
      nodes_.begin(), nodes_.end(), s, [](double t, const PathPoint& p) { return t < p.s; });
  return between(static_cast<std::size_t>(next - nodes_.begin()) - 1, s);
}

PathPoint SwingPath::crossing(std::size_t node, double theta_rad) const {
  double low = nodes_[node].s;
  double high = nodes_[node + 1].s;
  const double side = nodes_[node].theta_rad - theta_rad;
  for (int i = 0; i < 80 && high - low > 1e-16 * (1.0 + std::abs(low)); ++i) {
    const double middle = 0.5 * (low + high);
    const bool same = (between(node, middle).theta_rad - theta_rad) * side > 0.0;
    (same ? low : high) = middle;
  }
  PathPoint p = between(node, 0.5 * (low + high));
  const double drag = p.omega * std::abs(p.omega);
  const double acceleration = -std::sin(p.theta_rad) - law_.dry * sign_of(p.omega) -
                              law_.linear * p.omega - law_.quadratic * drag;
  if (p.omega != 0.0) p.omega_by -= acceleration / p.omega * p.theta_by;
  p.theta_by.setZero();
  return p;
}

std::optional<PathPoint> SwingPath::first_after(double theta_rad) const {
  for (std::size_t i = start_; i + 1 < nodes_.size(); ++i) {
    const double here = nodes_[i].theta_rad - theta_rad;
    const double next = nodes_[i + 1].theta_rad - theta_rad;
    if (here != 0.0 && here * next <= 0.0) return crossing(i, theta_rad);
  }
  return std::nullopt;
}

std::optional<PathPoint> SwingPath::last_before(double theta_rad) const {
  for (std::size_t i = start_ - 1; i-- > 0;) {
    const double here = nodes_[i].theta_rad - theta_rad;
    const double next = nodes_[i + 1].theta_rad - theta_rad;
    if (next != 0.0 && here * next <= 0.0) return crossing(i, theta_rad);
  }
  return std::nullopt;
}

std::vector<PathPoint> SwingPath::turns_after() const {
  std::vector<PathPoint> turns;
  for (std::size_t i = start_ + 1; i < nodes_.size(); ++i) {
    const bool again = i + 1 < nodes_.size() && nodes_[i + 1].s == nodes_[i].s;
    if (nodes_[i].omega == 0.0 && again) turns.push_back(nodes_[i]);
  }
  return turns;
}

}  // namespace swingloss
