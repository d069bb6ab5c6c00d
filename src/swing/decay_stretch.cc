// SPDX-License-Identifier: Apache-2.0
#include "swing/decay_stretch.h"

#include "core/angle.h"
#include "core/median.h"
#include "core/number_text.h"
#include "swing/clip_problem.h"
#include "swing/doubt_size.h"
#include "swing/find_falls.h"
#include "swing/shape_slopes.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

/// Thirty samples a period over fifty periods, and then some.
constexpr std::size_t kMostSamples = 2000;
constexpr double kCoarseStep = 0.04;

/// Where the free swinging begins, and the passes through the bottom from there on.
struct Begin {
  Piece piece;
  double from_s = 0.0;  ///< first sample to use
  std::vector<double> passes_s;
  std::size_t seen_passes = 0;  ///< the others are where swings too small to be seen apart
                                ///< would end
};

bool goes_on(const Fall& before, const Fall& next) {
  const double fall_s = next.bottom_s - next.start_s;
  return before.after == AfterFall::Rise && before.turn_seen &&
         std::abs(next.start_s - before.turn_s) < 0.3 * fall_s;
}

/// The run of falls, each the swinging on of the one before, that has most turning points.
std::pair<std::size_t, std::size_t> longest_run(const std::vector<Fall>& falls) {
  std::pair<std::size_t, std::size_t> best{0, 1};
  std::size_t begin = 0;
  for (std::size_t i = 1; i <= falls.size(); ++i) {
    if (i < falls.size() && goes_on(falls[i - 1], falls[i])) continue;
    if (i - begin > best.second - best.first) best = {begin, i};
    begin = i;
  }
  return best;
}

Begin begin_of(const FallsFound& found) {
  const auto [first, last] = longest_run(found.falls);
  const Fall& fall = found.falls[first];
  Begin begin;
  if (fall.hold) {
    begin.piece = {fall.side * fall.amplitude_rad, fall.start_s, true};
    begin.from_s = fall.start_s;
  } else {
    // The hand may have been at the arm until it fell; from the first crest after, it was not.
    begin.piece = {fall.side * fall.turn_rad, fall.turn_s, false};
    begin.from_s = fall.bottom_s;
  }
  for (std::size_t i = first; i < last; ++i) {
    if (found.falls[i].bottom_s > begin.from_s)
      begin.passes_s.push_back(found.falls[i].bottom_s);
  }
  const double end_s =
      found.falls[last - 1].after == AfterFall::Rise && found.falls[last - 1].turn_seen
          ? found.falls[last - 1].turn_s
          : found.falls[last - 1].bottom_s;
  if (begin.passes_s.empty() || end_s > begin.passes_s.back()) begin.passes_s.push_back(end_s);
  begin.seen_passes = begin.passes_s.size();
  return begin;
}

/// Half swings after the last that was told apart, until the arm rests or the track ends.
void add_small_swings(double until_s, double natural_rad_per_s, Begin& begin) {
  const double half_s = kPi / natural_rad_per_s;
  while (begin.passes_s.back() + half_s < until_s) {
    begin.passes_s.push_back(begin.passes_s.back() + half_s);
  }
}

void take_points(const DecayStretch& stretch,
                 double from_s,
                 double until_s,
                 JointProblem& out) {
  out.points.clear();
  for (std::size_t i = 0; i < stretch.track.samples.size(); ++i) {
    const AngleSample& sample = stretch.track.samples[i];
    if (sample.t_s < from_s || sample.t_s > until_s) continue;
    out.points.push_back({i, 0, sample.t_s, sample.theta_rad, sample.u_rad});
  }
  set_shapes(stretch.track, out);
}

void start_at(const ClipStart& start, JointProblem& problem) {
  problem.zero_rad = start.zero_rad;
  problem.natural_rad_per_s = start.natural_rad_per_s;
  problem.law = start.law;
  problem.pieces = {start.fall};
}

double robust_scatter(const DecayStretch& stretch, double from_s) {
  std::vector<double> sizes;
  for (std::size_t i = 0; i < stretch.problem.points.size(); ++i) {
    if (stretch.problem.points[i].t_s < from_s) continue;
    sizes.push_back(std::abs(stretch.fit.residual_rad[static_cast<Eigen::Index>(i)]));
  }
  return median_of(sizes);
}

/// Longer and longer; stops for good where what is added is no swinging on.
void lengthen(const Begin& begin, DecayStretch& now) {
  std::size_t have = std::min<std::size_t>(2, begin.passes_s.size());
  std::size_t step = 1;
  while (have < begin.passes_s.size()) {
    const std::size_t next = std::min(begin.passes_s.size(), have + step);
    DecayStretch longer = now;
    start_at(start_from(now.problem, now.fit), longer.problem);
    take_points(longer, begin.from_s, begin.passes_s[next - 1], longer.problem);
    Result<JointFit> fit = fit_jointly(longer.problem);
    bool good = fit.ok();
    if (good) {
      longer.fit = std::move(fit).value();
      const double before = std::max(robust_scatter(now, -1e300), 2e-4);
      good = robust_scatter(longer, begin.passes_s[have - 1]) < 5.0 * before;
    }
    if (good) {
      now = std::move(longer);
      have = next;
      step = have;
    } else if (step > 1) {
      step = 1;
    } else {
      if (have >= begin.seen_passes) return;
      now.remarks.push_back({"later-swings-not-used",
                             Severity::Note,
                             "After " + fixed_text(begin.passes_s[have - 1], 2) +
                                 " s the arm does not go on as a free pendulum; what follows "
                                 "was not used."});
      return;
    }
  }
}

std::optional<StaticStretch> rest_at_end(const FallsFound& found,
                                         double natural_rad_per_s,
                                         const OrientedTrack& track) {
  if (found.still.empty()) return std::nullopt;
  const StaticStretch& last = found.still.back();
  const double long_s = track.samples[last.end - 1].t_s - track.samples[last.begin].t_s;
  const bool at_end = last.end + 3 >= track.samples.size();
  if (!at_end || long_s * natural_rad_per_s < 5.0) return std::nullopt;
  return last;
}

}  // namespace

Result<DecayStretch> decay_stretch(const AngleTrack& track,
                                   const UncertainLaw& law_prior,
                                   double max_step_s) {
  DecayStretch stretch;
  stretch.track = thinned(without_wild(as_it_stands(track)), kMostSamples);
  if (stretch.track.samples.size() < 30) {
    return Failure{
        "too-few-samples",
        "the track has " + std::to_string(stretch.track.samples.size()) +
            (stretch.track.samples.size() == 1 ? " usable sample" : " usable samples") +
            "; at least 30 are needed",
        "Film the free swing for at least ten seconds."};
  }
  Result<FallsFound> found = find_falls(stretch.track.samples);
  if (!found.ok()) return found.failure();
  Begin begin = begin_of(found.value());
  const double guessed = found.value().guess.natural_rad_per_s;
  stretch.rest = rest_at_end(found.value(), guessed, stretch.track);
  const std::size_t still_from =
      stretch.rest ? stretch.rest->begin : stretch.track.samples.size() - 1;
  add_small_swings(stretch.track.samples[still_from].t_s, guessed, begin);
  ClipStart start;
  start.zero_rad = found.value().guess.zero_rad;
  start.natural_rad_per_s = guessed;
  const double share = usual_loss_share(found.value().falls);
  start.law = {law_prior.dry.u() > 0.0 ? 0.1 * share : 0.0,
               law_prior.linear.u() > 0.0 ? 0.1 * share : 0.0,
               law_prior.quadratic.u() > 0.0 ? 0.1 * share : 0.0};
  start.fall = begin.piece;
  stretch.problem.law_prior = law_prior;
  stretch.problem.max_step = kCoarseStep;
  start_at(start, stretch.problem);
  const std::size_t first = std::min<std::size_t>(2, begin.passes_s.size());
  take_points(stretch, begin.from_s, begin.passes_s[first - 1], stretch.problem);
  Result<JointFit> fit = fit_jointly(stretch.problem);
  if (!fit.ok()) return fit.failure();
  stretch.fit = std::move(fit).value();
  lengthen(begin, stretch);
  if (has_families(stretch.track)) {
    const FitPoint first_used = stretch.problem.points.front();
    const FitPoint last_used = stretch.problem.points.back();
    stretch.track = resized(stretch.track, stretch.problem, stretch.fit);
    take_points(stretch, first_used.t_s, last_used.t_s, stretch.problem);
  }
  const double w0 = stretch.fit.parameters[ParameterPlaces::kNatural];
  std::optional<DecayStretch> fine =
      refitted(stretch, law_prior, std::min(0.02, w0 * max_step_s));
  if (!fine) return Failure{"fit-failed", "the fit of the free swing ran away", ""};
  return *std::move(fine);
}

std::optional<DecayStretch> refitted(const DecayStretch& stretch,
                                     const UncertainLaw& law_prior,
                                     double max_step) {
  DecayStretch again = stretch;
  again.problem.law_prior = law_prior;
  again.problem.max_step = max_step;
  ClipStart start = start_from(stretch.problem, stretch.fit);
  if (law_prior.dry.u() <= 0.0) start.law.dry = 0.0;
  if (law_prior.linear.u() <= 0.0) start.law.linear = 0.0;
  if (law_prior.quadratic.u() <= 0.0) start.law.quadratic = 0.0;
  start_at(start, again.problem);
  Result<JointFit> fit = fit_jointly(again.problem);
  if (!fit.ok()) return std::nullopt;
  again.fit = std::move(fit).value();
  return again;
}

}  // namespace swingloss
