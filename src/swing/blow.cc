// SPDX-License-Identifier: Apache-2.0
#include "swing/blow.h"

#include "core/angle.h"
#include "swing/energy.h"
#include "swing/swing_path.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

/// 1/2 omega^2 with the doubts of amplitude and losses.
Uncertain half_square(const BottomSpeed& bottom,
                      const Uncertain& amplitude_rad,
                      const UncertainLaw& law) {
  const Eigen::Vector4d by = bottom.omega * bottom.omega_by;
  return Uncertain::combine(0.5 * bottom.omega * bottom.omega,
                            {{by[kByAmplitude], &amplitude_rad},
                             {by[kByDry], &law.dry},
                             {by[kByLinear], &law.linear},
                             {by[kByQuadratic], &law.quadratic}});
}

/// One piece near the bottom, to be fitted with zero, w0, losses and doubts as `parameters`
/// (places of `apart`) have them.
JointProblem near_bottom(const Explained& apart,
                         std::size_t piece,
                         const Eigen::VectorXd& parameters) {
  JointProblem problem = apart.problem;
  problem.frame_known = true;
  problem.zero_rad = parameters[ParameterPlaces::kZero];
  problem.natural_rad_per_s = parameters[ParameterPlaces::kNatural];
  problem.law = SwingLaw::from(parameters.segment<3>(ParameterPlaces::kLaw));
  problem.pieces = {piece_of(apart.problem, parameters, piece)};
  // A fall is taken as if it had always been moving: the release must not speak here.
  problem.pieces[0].released = false;
  problem.levels.clear();
  problem.points.clear();
  const Piece at = piece_of(apart.problem, apart.fit.parameters, piece);
  const double zero_rad = apart.fit.parameters[ParameterPlaces::kZero];
  for (std::size_t i = 0; i < apart.problem.points.size(); ++i) {
    const auto row = static_cast<Eigen::Index>(i);
    FitPoint point = apart.problem.points[i];
    const double x = std::abs(point.theta_rad - zero_rad);
    const bool arc = piece == 0 || point.t_s < at.turn_s;
    const bool high = x > 0.7 * std::abs(at.amplitude_rad);
    if (point.piece != piece || !apart.fit.used[i] || !arc || high) continue;
    point.piece = 0;
    point.theta_rad -=
        apart.problem.shapes_rad.row(row).dot(parameters.tail(apart.places().doubts));
    point.u_rad = std::hypot(std::max(1.0, apart.fit.noise.scale) * point.u_rad,
                             apart.fit.noise.jitter_s * apart.fit.omega_rad_per_s[row]);
    problem.points.push_back(point);
  }
  problem.shapes_rad = Eigen::MatrixXd(static_cast<Eigen::Index>(problem.points.size()), 0);
  problem.shape_slopes.resize(0, 0);
  problem.doubt_sources.clear();
  return problem;
}

/// Angular speed at the bottom from one side, in the clip's time, and its u from these samples.
struct BottomRate {
  double rate_rad_per_s = 0.0, u_rad_per_s = 0.0;
};

std::optional<BottomRate> bottom_rate(const Explained& apart,
                                      std::size_t piece,
                                      const Eigen::VectorXd& parameters) {
  const JointProblem problem = near_bottom(apart, piece, parameters);
  if (problem.points.size() < 4) return std::nullopt;
  const Result<JointFit> fit = fit_jointly(problem);
  if (!fit.ok()) return std::nullopt;
  const Eigen::Index at = ParameterPlaces(problem).amplitude(0);
  const double amplitude_rad = std::abs(fit.value().parameters[at]);
  if (amplitude_rad <= 0.0 || amplitude_rad >= kPi) return std::nullopt;
  const std::optional<BottomSpeed> bottom =
      piece == 0 ? fall_to_bottom(amplitude_rad, problem.law)
                 : std::optional<BottomSpeed>(rise_from_bottom(amplitude_rad, problem.law));
  if (!bottom) return std::nullopt;
  const double w0 = problem.natural_rad_per_s;
  const double by_amplitude = w0 * std::abs(bottom->omega_by[kByAmplitude]);
  return BottomRate{w0 * bottom->omega, by_amplitude * std::sqrt(fit.value().tracking(at, at))};
}

/// The same with the doubts of what was given: each is moved by its u and the fit repeated.
std::optional<Uncertain> bottom_rate_rad_per_s(const Explained& apart,
                                               std::size_t piece,
                                               const std::string& source) {
  const Eigen::VectorXd& best = apart.fit.parameters;
  const std::optional<BottomRate> at = bottom_rate(apart, piece, best);
  if (!at) return std::nullopt;
  Uncertain rate =
      Uncertain::from(at->rate_rad_per_s, at->u_rad_per_s, source, SourceKind::Own);
  for (Eigen::Index k = 0; k < best.size(); ++k) {
    const bool frame = k < ParameterPlaces::kLaw + 3 || k >= apart.places().doubt(0);
    const Uncertain& value = apart.values[static_cast<std::size_t>(k)];
    const double step = value.u();
    if (!frame || step <= 0.0) continue;
    Eigen::VectorXd moved = best;
    moved[k] += step;
    const std::optional<BottomRate> there = bottom_rate(apart, piece, moved);
    if (!there) return std::nullopt;
    const double by = (there->rate_rad_per_s - at->rate_rad_per_s) / step;
    rate = Uncertain::combine(rate.value(), {{1.0, &rate}, {by, &value}});
  }
  return rate;
}

}  // namespace

std::optional<BottomEnergies> bottom_energies(const Explained& apart) {
  if (apart.problem.pieces.size() < 2) return std::nullopt;
  const Uncertain& release =
      apart.values[static_cast<std::size_t>(apart.places().amplitude(0))];
  const Uncertain rise = -apart.values[static_cast<std::size_t>(apart.places().amplitude(1))];
  if (release.value() <= 0.0 || rise.value() <= 0.0) return std::nullopt;
  const UncertainLaw law = apart.law();
  const std::optional<BottomSpeed> down = fall_to_bottom(release.value(), law.law());
  if (!down) return std::nullopt;
  const BottomSpeed up = rise_from_bottom(rise.value(), law.law());
  return BottomEnergies{half_square(*down, release, law), half_square(up, rise, law)};
}

double least_blow_fraction(const Explained& apart) {
  constexpr double kLeast = 0.005;
  if (apart.fit.scatter_in_u < 3.0 || apart.fit.inefficiency < 3.0) return kLeast;
  return std::max(kLeast, loss_share_spread(apart.found.falls));
}

DropVerdict judge_drop(const Explained& apart, const BottomEnergies& energies) {
  const double released = 1.0 - std::cos(apart.fit.parameters[apart.places().amplitude(0)]);
  const double doubt = 3.0 * energies.drop().u();
  const double least = least_blow_fraction(apart) * released;
  if (energies.drop().value() > std::max(doubt, least)) return DropVerdict::Blow;
  return doubt < 0.03 * released ? DropVerdict::None : DropVerdict::CannotTell;
}

std::optional<Uncertain> absorbed_by_speeds_J(const Explained& apart,
                                              const Pendulum& pendulum,
                                              const Uncertain& capture_rate_ratio) {
  if (apart.problem.pieces.size() < 2) return std::nullopt;
  const std::optional<Uncertain> fall = bottom_rate_rad_per_s(apart, 0, "tracking.fall-speed");
  const std::optional<Uncertain> rise = bottom_rate_rad_per_s(apart, 1, "tracking.rise-speed");
  if (!fall || !rise) return std::nullopt;
  const Uncertain before = capture_rate_ratio * *fall;
  const Uncertain after = capture_rate_ratio * *rise;
  return 0.5 * inertia_kg_m2(pendulum) * (before * before - after * after);
}

}  // namespace swingloss
