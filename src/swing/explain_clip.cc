// SPDX-License-Identifier: Apache-2.0
#include "swing/explain_clip.h"

#include "core/angle.h"
#include "core/median.h"
#include "core/number_text.h"
#include "swing/doubt_size.h"
#include "swing/level_check.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

/// Step of the integration while the fit is still being built up [1/w0]: 4e-7 rad after seven
/// swings, a thousandth of the best track's doubt.
constexpr double kCoarseStep = 0.04;

/// Fall from the positive side, rise on the negative, rebound on the positive again.
bool possible(const Explained& e) {
  constexpr double kLeast_rad = 1e-4;
  const ClipStart at = start_from(e.problem, e.fit);
  const bool falls =
      at.fall.amplitude_rad > kLeast_rad && at.fall.amplitude_rad < kPi - kLeast_rad;
  if (e.problem.pieces.size() < 2) return falls;
  const double side = e.plan.fall.after == AfterFall::Rise ? -1.0 : 1.0;
  const double after_rad = side * at.after.amplitude_rad;
  return falls && after_rad > kLeast_rad && after_rad < kPi - kLeast_rad;
}

Result<Explained> fitted(const ExplainRequest& request,
                         const OrientedTrack& track,
                         const ClipPlan& plan,
                         const ClipStart& start,
                         double max_step = kCoarseStep) {
  Explained result;
  result.track = track;
  result.found = request.found;
  result.plan = plan;
  result.problem = problem_of(track, plan, start, request.law_prior);
  result.problem.natural_prior = request.natural_prior;
  result.problem.max_step = max_step;
  for (const FitLevel& level : request.more_levels) result.problem.levels.push_back(level);
  Result<JointFit> fit = fit_jointly(result.problem);
  if (!fit.ok()) return fit.failure();
  result.fit = std::move(fit).value();
  if (!possible(result)) {
    return Failure{"fit-failed",
                   "the best fit of the pendulum's law to the track is no fall and rise",
                   "Look at the track drawn on the clip: is it on the arm from the release to "
                   "the turning point?"};
  }
  return result;
}

/// What was noted of a clip does not change with the next fit of it.
Explained keeping_notes(const Explained& earlier, Explained later) {
  later.remarks = earlier.remarks;
  later.u_rate_ratio = earlier.u_rate_ratio;
  return later;
}

/// Fits, sees from the fit when the arm was at the bottom, and fits the right samples.
Result<Explained> fitted_twice(const ExplainRequest& request,
                               const OrientedTrack& track,
                               ClipPlan plan,
                               const ClipStart& start) {
  Result<Explained> first = fitted(request, track, plan, start);
  if (!first.ok()) return first;
  const ClipStart better = start_from(first.value().problem, first.value().fit);
  set_bottoms(better, plan);
  return fitted(request, track, plan, better);
}

/// Times of the later passes through the bottom in the same uncut stretch, then its end.
std::vector<double> later_passes_s(const FallsFound& found, const Fall& fall) {
  std::vector<double> times;
  for (const Fall& other : found.falls) {
    if (other.bottom_s > fall.bottom_s && other.bottom_s <= fall.block_end_s) {
      times.push_back(other.bottom_s);
    }
  }
  if (times.empty() || times.back() < fall.block_end_s) times.push_back(fall.block_end_s);
  return times;
}

/// Median size of the residuals after `from_s`, in standard deviations of the fit, and of
/// those before; and of those after as angles.
struct Sizes {
  double before = 0.0, after = 0.0, after_rad = 0.0;
};

Sizes residual_sizes(const Explained& e, double from_s) {
  std::vector<double> before;
  std::vector<double> after;
  std::vector<double> after_rad;
  for (std::size_t i = 0; i < e.problem.points.size(); ++i) {
    const FitPoint& point = e.problem.points[i];
    const auto row = static_cast<Eigen::Index>(i);
    const double sigma =
        std::hypot(point.u_rad, e.fit.noise.jitter_s * e.fit.omega_rad_per_s[row]);
    const double size_rad = std::abs(e.fit.residual_rad[row]);
    (point.t_s > from_s ? after : before).push_back(size_rad / sigma);
    if (point.t_s > from_s) after_rad.push_back(size_rad);
  }
  return {median_of(before), median_of(after), median_of(after_rad)};
}

/// Whether a longer fit tells the same story as the shorter one. Later swings pass the same
/// places at other speeds, so what the track may be off by at a place need not be the same at
/// every pass: residuals as small as the track says it may be off (`doubt_rad`) are no hand.
bool carries_on(const Explained& shorter, const Explained& longer, double doubt_rad) {
  const Sizes sizes = residual_sizes(longer, shorter.plan.until_s);
  const double usual = std::max(residual_sizes(shorter, 1e300).before, 0.6745);
  const bool small = sizes.after <= 3.0 * usual || sizes.after_rad <= doubt_rad;
  if (!small || sizes.before > 2.0 * usual) return false;
  const ParameterPlaces places = shorter.places();
  for (std::size_t k = 0; k < shorter.problem.pieces.size(); ++k) {
    const Eigen::Index at = places.amplitude(k);
    const double moved = std::abs(longer.fit.parameters[at] - shorter.fit.parameters[at]);
    const double u =
        std::sqrt(std::max(shorter.fit.covariance(at, at), shorter.fit.tracking(at, at)));
    // Half a hundredth of a degree is nothing that a hand or a second contact would do.
    if (moved > 5.0 * u + 1e-4) return false;
  }
  return true;
}

void note_end(Explained& e) {
  constexpr const char* kCode = "later-swings-not-used";
  const auto noted = [&](const Remark& remark) { return remark.code == kCode; };
  e.remarks.erase(std::remove_if(e.remarks.begin(), e.remarks.end(), noted), e.remarks.end());
  e.remarks.push_back(
      {kCode,
       Severity::Note,
       "After " + fixed_text(e.plan.until_s, 2) +
           " s the arm does not go on as a free pendulum (a hand, a second contact?); what "
           "follows was not used."});
}

/// Longer and longer stretches after the bottom, as long as they carry on.
Explained lengthened(const ExplainRequest& request, Explained now) {
  const std::vector<double> passes = later_passes_s(request.found, now.plan.fall);
  std::size_t have = 1;
  std::size_t step = 1;
  const std::size_t most = std::min(passes.size(), request.most_passes);
  while (have < most) {
    ClipPlan plan = now.plan;
    const std::size_t next = std::min(most, have + step);
    plan.until_s = passes[next - 1];
    const Result<Explained> longer =
        fitted(request, now.track, plan, start_from(now.problem, now.fit));
    if (longer.ok() && carries_on(now, longer.value(), request.track.u_place_rad)) {
      now = keeping_notes(now, longer.value());
      have = next;
      step = 1 + have / 2;
    } else if (step > 1) {
      step = 1;
    } else {
      note_end(now);
      break;
    }
  }
  return now;
}

Remark steady_remark(const SteadyTimes& steady) {
  return {"steady-times-used",
          Severity::Note,
          "The time stamps waver by " + significant_text(1e3 * steady.waver_s, 2) +
              " ms about a steady " + significant_text(1.0 / steady.interval_s, 4) +
              " pictures a second; the swing itself follows the steady rate more closely, so "
              "that was used."};
}

/// With the samples' own times, or with the steady ones that they waver about.
Result<Explained> with_best_times(const ExplainRequest& request,
                                  const ClipPlan& plan,
                                  const ClipStart& start) {
  Result<Explained> own = fitted_twice(request, request.track, plan, start);
  const std::optional<SteadyTimes> steady = steady_times(request.track.samples);
  if (!steady) return own;
  Result<Explained> even =
      fitted_twice(request, at_steady_times(request.track, *steady), plan, start);
  if (!even.ok()) return own;
  // e^5 to 1: the samples' own times have the benefit of the doubt.
  const bool better =
      !own.ok() || even.value().fit.log_likelihood > own.value().fit.log_likelihood + 5.0;
  if (!better) return own;
  Explained chosen = std::move(even).value();
  chosen.remarks.push_back(steady_remark(*steady));
  chosen.u_rate_ratio = steady->u_rate_ratio;
  return chosen;
}

/// Fits once more with families of doubts as large as the fit shows them.
Result<Explained> with_sized_doubts(const ExplainRequest& request, Result<Explained> e) {
  if (!e.ok() || !has_families(e.value().track)) return e;
  const Explained& now = e.value();
  Result<Explained> again = fitted(request,
                                   resized(now.track, now.problem, now.fit),
                                   now.plan,
                                   start_from(now.problem, now.fit));
  if (!again.ok()) return again;
  return keeping_notes(now, std::move(again).value());
}

/// Adds the hold and the rests that the motion bears out. They come last: one that lies would
/// drag the whole fit along before it could be told from one that does not.
Result<Explained> with_levels(const ExplainRequest& request, Explained e) {
  constexpr double kTooFar = 4.0;
  ClipPlan plan = e.plan;
  if (plan.fall.hold) {
    plan.use_hold = contradiction(e, hold_level(e.track, *plan.fall.hold)) <= kTooFar;
    if (!plan.use_hold) {
      e.remarks.push_back({"hold-not-release",
                           Severity::Warning,
                           "The arm was held at another angle than the one its fall began "
                           "from; the fall alone was used for the release angle."});
    }
  }
  const std::vector<std::size_t> rests = possible_rests(e.track, e.found, plan.fall);
  for (const std::size_t k : rests) {
    const FitLevel level = rest_level(e.track, e.found.still[k], dead_band_rad(e));
    if (contradiction(e, level) <= kTooFar) plan.rests.push_back(level);
  }
  if (plan.rests.size() < rests.size()) {
    e.remarks.push_back({"rest-not-zero",
                         Severity::Warning,
                         "A stretch without motion near the bottom is not where the swing is "
                         "centred (hammer leaning on something, or camera moved?); it was not "
                         "used for zero."});
  }
  if (!plan.use_hold && plan.rests.empty()) return e;
  Result<Explained> again = fitted(request, e.track, plan, start_from(e.problem, e.fit));
  if (!again.ok()) return again;
  return keeping_notes(e, std::move(again).value());
}

Result<Explained> finished(const ExplainRequest& request, Result<Explained> started) {
  if (!started.ok()) return started;
  const bool flies_on =
      started.value().plan.one_piece ||
      (started.value().plan.after && started.value().plan.fall.after == AfterFall::Rise);
  Explained whole =
      flies_on ? lengthened(request, std::move(started).value()) : std::move(started).value();
  Result<Explained> sized = with_sized_doubts(request, std::move(whole));
  if (!sized.ok()) return sized;
  Result<Explained> result = with_levels(request, std::move(sized).value());
  if (!result.ok()) return result;
  const Explained& coarse = result.value();
  const ClipStart start = start_from(coarse.problem, coarse.fit);
  const double fine_step = std::min(0.02, start.natural_rad_per_s * request.max_step_s);
  Result<Explained> fine = fitted(request, coarse.track, coarse.plan, start, fine_step);
  if (!fine.ok()) return fine;
  Explained e = keeping_notes(coarse, std::move(fine).value());
  e.values = e.fit.uncertain(e.problem);
  Uncertain& natural = e.values[ParameterPlaces::kNatural];
  natural =
      natural +
      Uncertain::from(0.0, e.u_rate_ratio * natural.value(), "tracking.rate", SourceKind::Own);
  return e;
}

}  // namespace

UncertainLaw Explained::law() const {
  return {values[ParameterPlaces::kLaw],
          values[ParameterPlaces::kLaw + 1],
          values[ParameterPlaces::kLaw + 2]};
}

Result<Explained> explain_clip(const ExplainRequest& request) {
  const Fall& fall = request.found.falls[request.fall];
  ClipPlan plan = first_plan(fall);
  plan.until_s = later_passes_s(request.found, fall).front();
  const ClipStart start = first_start(request.found, fall, request.law_prior);
  Result<Explained> first = with_best_times(request, plan, start);
  if (!first.ok() && plan.after) {
    // A rise of a sample or two cannot be fitted; the fall still can.
    plan.after = false;
    first = with_best_times(request, plan, start);
  }
  return finished(request, with_sized_doubts(request, std::move(first)));
}

Result<Explained> explain_as_free(const ExplainRequest& request, const Explained& apart) {
  ClipPlan plan = apart.plan;
  plan.one_piece = true;
  plan.use_hold = false;
  plan.rests.clear();
  plan.until_s = later_passes_s(request.found, plan.fall).front();
  Result<Explained> first =
      fitted(request, apart.track, plan, start_from(apart.problem, apart.fit));
  if (!first.ok()) return first;
  return finished(request, keeping_notes(apart, std::move(first).value()));
}

}  // namespace swingloss
