// SPDX-License-Identifier: Apache-2.0
#include "swing/clip_problem.h"

#include "swing/energy.h"
#include "swing/period_ratio.h"
#include "swing/shape_slopes.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

/// Samples [begin, end) of a still stretch without those at its edges, where it may be moving.
std::pair<std::size_t, std::size_t> core_of(const StaticStretch& still) {
  const std::size_t n = still.end - still.begin;
  const std::size_t edge = n >= 8 ? 2 : 1;
  return {still.begin + edge, still.end - edge};
}

void add_point(const OrientedTrack& track,
               std::size_t i,
               std::size_t piece,
               JointProblem& out) {
  const AngleSample& sample = track.samples[i];
  out.points.push_back({i, piece, sample.t_s, sample.theta_rad, sample.u_rad});
}

void add_fall_points(const OrientedTrack& track, const ClipPlan& plan, JointProblem& out) {
  const double hand_s =
      plan.fall.start_seen ? plan.fall.start_s + 1.2 * track.interval_s : plan.fall.start_s;
  const double last_s =
      plan.one_piece ? plan.until_s : plan.fall_bottom_s - 0.6 * track.interval_s;
  for (std::size_t i = 0; i < track.samples.size(); ++i) {
    const AngleSample& sample = track.samples[i];
    if (sample.t_s < hand_s || sample.t_s > last_s) continue;
    const bool touching = !plan.one_piece && sample.theta_rad - out.zero_rad < kContact_rad;
    if (!touching) add_point(track, i, 0, out);
  }
}

void add_after_points(const OrientedTrack& track, const ClipPlan& plan, JointProblem& out) {
  const double blow_s = std::max(plan.fall_bottom_s, plan.rise_bottom_s);
  // Until the hammer has left the bar for good; later passes find nothing in the way.
  bool clear = false;
  for (std::size_t i = 0; i < track.samples.size(); ++i) {
    const AngleSample& sample = track.samples[i];
    if (sample.t_s < blow_s + 0.6 * track.interval_s || sample.t_s > plan.until_s) continue;
    const double x =
        (sample.theta_rad - out.zero_rad) * (plan.fall.after == AfterFall::Rise ? -1.0 : 1.0);
    clear = clear || x > kContact_rad;
    if (clear) add_point(track, i, 1, out);
  }
}

/// A quarter of a period and a little [s].
double quarter_s(double amplitude_rad, double natural_rad_per_s) {
  return complete_elliptic_k(std::sin(0.5 * amplitude_rad)) / natural_rad_per_s;
}

}  // namespace

FitLevel level_of(const OrientedTrack& track, const StaticStretch& still) {
  const auto [begin, end] = core_of(still);
  const auto n = static_cast<Eigen::Index>(end - begin);
  Eigen::VectorXd theta(n);
  double u2 = 0.0;
  FitLevel level;
  level.shape_rad = Eigen::VectorXd::Zero(track.shapes_rad.cols());
  for (Eigen::Index i = 0; i < n; ++i) {
    const std::size_t at = begin + static_cast<std::size_t>(i);
    theta[i] = track.samples[at].theta_rad;
    u2 += std::pow(track.samples[at].u_rad, 2) / static_cast<double>(n);
    level.shape_rad += track.shapes_rad.row(static_cast<Eigen::Index>(at)).transpose() /
                       static_cast<double>(n);
  }
  level.theta_rad = theta.mean();
  const Eigen::VectorXd off = theta.array() - level.theta_rad;
  const double count = static_cast<double>(n);
  const double scatter2 = n > 1 ? off.squaredNorm() / (count - 1.0) : u2;
  const std::vector<bool> contiguous(static_cast<std::size_t>(std::max<Eigen::Index>(n - 1, 0)),
                                     true);
  const double lost =
      memory_of(off, Eigen::MatrixXd::Constant(n, 1, 1.0 / std::sqrt(count)), contiguous)
          .inefficiency();
  const bool too_good = scatter2 < u2 * (1.0 - 2.0 * std::sqrt(2.0 / count));
  const double common2 = too_good ? u2 - scatter2 : 0.0;
  level.u_rad =
      std::sqrt((too_good ? scatter2 : std::max(scatter2, u2)) * lost / count + common2);
  return level;
}

FitLevel hold_level(const OrientedTrack& track, const StaticStretch& still) {
  FitLevel level = level_of(track, still);
  level.piece = 0;
  level.source = "tracking.hold";
  return level;
}

FitLevel rest_level(const OrientedTrack& track,
                    const StaticStretch& still,
                    double dead_band_rad) {
  FitLevel level = level_of(track, still);
  level.source = "zero";
  level.kind = SourceKind::Shared;
  level.u_rad = std::hypot(level.u_rad, dead_band_rad / std::sqrt(3.0));
  return level;
}

std::vector<std::size_t> possible_rests(const OrientedTrack& track,
                                        const FallsFound& found,
                                        const Fall& fall) {
  std::vector<std::size_t> rests;
  const double w0 = found.guess.natural_rad_per_s;
  for (std::size_t k = 0; k < found.still.size(); ++k) {
    const StaticStretch& still = found.still[k];
    const double long_s = track.samples[still.end - 1].t_s - track.samples[still.begin].t_s;
    const bool hanging = std::abs(still.theta_rad - found.guess.zero_rad) < 1.5 * kContact_rad;
    const bool leans = fall.after != AfterFall::Rise && fall.after != AfterFall::Unseen &&
                       track.samples[still.end - 1].t_s > fall.bottom_s;
    if (hanging && !leans && long_s * w0 > 1.5) rests.push_back(k);
  }
  return rests;
}

ClipPlan first_plan(const Fall& fall) {
  ClipPlan plan;
  plan.fall = fall;
  plan.after = fall.after == AfterFall::Rise || fall.after == AfterFall::Rebound;
  plan.until_s = fall.block_end_s;
  plan.fall_bottom_s = plan.rise_bottom_s = fall.bottom_s;
  return plan;
}

ClipStart first_start(const FallsFound& found,
                      const Fall& fall,
                      const UncertainLaw& law_prior) {
  ClipStart start;
  start.zero_rad = found.guess.zero_rad;
  start.natural_rad_per_s = found.guess.natural_rad_per_s;
  start.law = law_prior.law();
  const double start_s =
      fall.start_seen ? fall.start_s
                      : fall.bottom_s - quarter_s(fall.amplitude_rad, start.natural_rad_per_s);
  start.fall = {fall.amplitude_rad, start_s, fall.start_seen};
  double turn_rad = fall.turn_rad;
  double turn_s = fall.turn_s;
  if (fall.after == AfterFall::Rise && !fall.turn_seen) {
    const double reached = std::max(1.0 - std::cos(fall.turn_rad), fall.energy_after);
    turn_rad = -std::acos(std::max(1.0 - reached, -0.999));
    turn_s = fall.bottom_s + quarter_s(turn_rad, start.natural_rad_per_s);
  }
  start.after = {turn_rad, turn_s, false};
  return start;
}

void set_bottoms(const ClipStart& start, ClipPlan& plan) {
  const std::optional<BottomSpeed> down = fall_to_bottom(start.fall.amplitude_rad, start.law);
  if (down) plan.fall_bottom_s = start.fall.turn_s + down->s / start.natural_rad_per_s;
  plan.rise_bottom_s = plan.fall_bottom_s;
  if (plan.after && !plan.one_piece && plan.fall.after == AfterFall::Rise) {
    const BottomSpeed up = rise_from_bottom(std::abs(start.after.amplitude_rad), start.law);
    plan.rise_bottom_s = start.after.turn_s - up.s / start.natural_rad_per_s;
  }
}

JointProblem problem_of(const OrientedTrack& track,
                        const ClipPlan& plan,
                        const ClipStart& start,
                        const UncertainLaw& law_prior) {
  JointProblem problem;
  problem.zero_rad = start.zero_rad;
  problem.natural_rad_per_s = start.natural_rad_per_s;
  problem.law = start.law;
  problem.law_prior = law_prior;
  problem.pieces.push_back(start.fall);
  add_fall_points(track, plan, problem);
  if (plan.after && !plan.one_piece) {
    problem.pieces.push_back(start.after);
    add_after_points(track, plan, problem);
  }
  set_shapes(track, problem);
  if (plan.fall.hold && plan.use_hold) {
    problem.levels.push_back(hold_level(track, *plan.fall.hold));
  }
  problem.levels.insert(problem.levels.end(), plan.rests.begin(), plan.rests.end());
  return problem;
}

ClipStart start_from(const JointProblem& problem, const JointFit& fit) {
  ClipStart start;
  start.zero_rad = fit.parameters[ParameterPlaces::kZero];
  start.natural_rad_per_s = fit.parameters[ParameterPlaces::kNatural];
  start.law = SwingLaw::from(fit.parameters.segment<3>(ParameterPlaces::kLaw));
  start.fall = piece_of(problem, fit.parameters, 0);
  if (problem.pieces.size() > 1) start.after = piece_of(problem, fit.parameters, 1);
  return start;
}

}  // namespace swingloss
