// SPDX-License-Identifier: Apache-2.0
#include "swing/measure_swing.h"

#include "core/number_text.h"
#include "swing/blow.h"
#include "swing/capture_ratio.h"
#include "swing/conclude.h"
#include "swing/doubt_size.h"
#include "swing/later_decay.h"
#include "swing/local_motion.h"
#include "swing/speed_change.h"
#include "swing/track_legs.h"

#include <cmath>

namespace swingloss {
namespace {

/// A fit of a dozen unknowns needs more samples than that.
constexpr std::size_t kFewestSamples = 16;
/// Enough for the noise of any log; more only costs time.
constexpr std::size_t kMostSamples = 1500;
/// Enough to see whether a clip changes its speed.
constexpr std::size_t kRoughSamples = 400;

/// Losses of which nothing is known: none, give or take a few per cent of the energy in a half
/// swing for each term; more where the swings after the first already show that they lose more.
UncertainLaw wide_law(double loss_share) {
  const double u = std::max(0.01, 0.4 * loss_share);
  const auto term = [u](const char* source) {
    return Uncertain::from(0.0, u, source, SourceKind::Shared);
  };
  return {term("friction.dry"), term("friction.linear"), term("friction.quadratic")};
}

FitLevel latch_level(const OrientedTrack& track, const Uncertain& angle_rad, double zero_rad) {
  FitLevel level;
  level.piece = 0;
  level.theta_rad = zero_rad + angle_rad.value();
  level.u_rad = std::max(angle_rad.u(), 1e-6);
  level.shape_rad = Eigen::VectorXd::Zero(track.shapes_rad.cols());
  level.source = "rig.release-angle";
  level.kind = SourceKind::Shared;
  return level;
}

FitLevel zero_level(const OrientedTrack& track, const Uncertain& zero_rad) {
  FitLevel level;
  level.theta_rad = track.direction * zero_rad.value();
  level.u_rad = std::max(zero_rad.u(), 1e-6);
  level.shape_rad = Eigen::VectorXd::Zero(track.shapes_rad.cols());
  level.source = "zero";
  level.kind = SourceKind::Shared;
  return level;
}

ExplainRequest request_of(OrientedTrack track, FallsFound found, std::size_t chosen) {
  ExplainRequest request;
  const bool turned = found.falls[chosen].side < 0.0;
  request.track = turned ? mirrored(std::move(track)) : std::move(track);
  request.found = turned ? mirrored(std::move(found)) : std::move(found);
  request.fall = chosen;
  return request;
}

Remarks remarks_on_choice(const FallsFound& found, std::size_t chosen) {
  Remarks remarks;
  const std::vector<std::size_t> others = other_blows(found.falls, chosen);
  const auto at = [&](std::size_t i) { return fixed_text(found.falls[i].bottom_s, 2) + " s"; };
  if (!others.empty()) {
    remarks.push_back({"two-blows",
                       Severity::Warning,
                       "Energy is lost at the bottom more than once: at " + at(chosen) +
                           " and again at " + at(others.front()) + ". The blow at " +
                           at(chosen) + " was measured."});
  }
  const bool practice = chosen > 0 && found.falls[chosen].hold;
  if (practice && others.empty()) {
    remarks.push_back({"practice-swing",
                       Severity::Note,
                       "The arm swings before the release that leads to the blow (first at " +
                           at(0) + "); the fall that reaches the bottom at " + at(chosen) +
                           " was measured."});
  }
  return remarks;
}

SwingMeasurement unclear(const Failure& why) {
  SwingMeasurement m;
  m.remarks.push_back({why.code, Severity::Refusal, sentences_of(why)});
  return m;
}

/// Where the law does not describe the motion, a loss below twice what the later swings make of
/// it is no blow that could be told from friction.
void doubt_blow(const Explained& apart, SwingMeasurement& m) {
  if (m.outcome != Outcome::Broken || apart.fit.scatter_in_u < 3.0) return;
  const std::optional<BottomEnergies> energies = bottom_energies(apart);
  const std::optional<double> by_friction = loss_by_later_swings(apart);
  if (!energies || !by_friction || energies->drop().value() > 2.0 * *by_friction) return;
  m.outcome = Outcome::Unclear;
  m.remarks.push_back(
      {"blow-or-friction",
       Severity::Refusal,
       "The arm loses less than twice as much energy at the first pass as the later swings "
       "lose, and no simple law of loss describes them well enough to tell a bar from "
       "friction. Give the rig's friction (from free-swing clips)."});
}

/// Once more with the rig's own rate, where the clip does not contradict it: a hammer that is
/// thrown back shows half an arc, and by itself tells neither the rate nor the view well.
/// \param request  gets that rate
Result<Explained> with_rig_rate(Result<Explained> alone,
                                const Pendulum* pendulum,
                                ExplainRequest& request) {
  if (!alone.ok() || pendulum == nullptr) return alone;
  request.natural_prior = rate_by_rig(natural_rad_per_s(*pendulum),
                                      alone.value().values[ParameterPlaces::kNatural]);
  if (!request.natural_prior) return alone;
  Result<Explained> known = explain_clip(request);
  return known.ok() ? known : alone;
}

/// Whether the arm came to this fall by a larger swing, which then is the one that was meant
/// and was not understood: no hand held it in between.
std::optional<Failure> larger_before(const std::vector<AngleSample>& samples,
                                     const FallsFound& found,
                                     const Fall& fall) {
  constexpr double kLarger = 1.1, kAtStart = 0.3;
  if (fall.hold) return std::nullopt;
  const double span_rad = fall.amplitude_rad + std::abs(fall.turn_rad);
  for (const Leg& leg : legs_of(running_median(samples), 0.5 * span_rad)) {
    const double after_s = std::abs(samples[leg.end].t_s - fall.start_s);
    const bool leads_here = after_s * found.guess.natural_rad_per_s < kAtStart;
    if (leads_here && leg.span_rad > kLarger * span_rad) {
      return Failure{"larger-swing-before",
                     "before the swing that follows the law of a pendulum, from " +
                         fixed_text(fall.start_s, 2) +
                         " s, the arm makes a larger one that does not",
                     "Give the camera's own file, without a cut or slow motion that begins in "
                     "the fall; else look at the track drawn on the clip."};
    }
  }
  return std::nullopt;
}

bool shows_no_blow(const Explained& apart) {
  const std::optional<BottomEnergies> energies = bottom_energies(apart);
  if (!energies || apart.plan.fall.after != AfterFall::Rise) return false;
  return judge_drop(apart, *energies) == DropVerdict::None;
}

/// Of a track at one speed.
Result<SwingMeasurement> at_one_speed(const AngleTrack& track,
                                      const Pendulum* pendulum,
                                      const SwingOptions& options) {
  OrientedTrack whole =
      with_place_doubts(thinned(without_wild(as_it_stands(track)), kMostSamples));
  if (whole.samples.size() < kFewestSamples) {
    return Failure{"too-few-samples",
                   "the track has " + std::to_string(whole.samples.size()) +
                       (whole.samples.size() == 1 ? " usable sample; at least "
                                                  : " usable samples; at least ") +
                       std::to_string(kFewestSamples) + " are needed",
                   "Use a higher picture rate, and record the whole swing."};
  }
  Result<FallsFound> found = find_falls(whole.samples);
  if (!found.ok()) return found.failure();
  const std::size_t chosen = fall_of_blow(found.value().falls);
  if (const auto larger =
          larger_before(whole.samples, found.value(), found.value().falls[chosen]))
    return unclear(*larger);
  const Remarks about_choice = remarks_on_choice(found.value(), chosen);
  ExplainRequest request = request_of(std::move(whole), found.value(), chosen);
  request.max_step_s = options.max_step_s;
  const bool rig_friction = pendulum != nullptr && pendulum->friction;
  request.law_prior = rig_friction ? law_of(*pendulum->friction, *pendulum)
                                   : wide_law(usual_loss_share(request.found.falls));
  if (options.zero_rad) {
    request.more_levels.push_back(zero_level(request.track, *options.zero_rad));
  }
  if (pendulum != nullptr && pendulum->release_angle_rad &&
      !request.found.falls[chosen].start_seen) {
    request.more_levels.push_back(
        latch_level(request.track, *pendulum->release_angle_rad, request.found.guess.zero_rad));
  }
  Result<Explained> apart = with_rig_rate(explain_clip(request), pendulum, request);
  if (!apart.ok()) return unclear(apart.failure());
  ClipFits fits{std::move(apart).value(), std::nullopt};
  if (shows_no_blow(fits.apart)) {
    Result<Explained> free = explain_as_free(request, fits.apart);
    if (free.ok()) fits.free = std::move(free).value();
  }
  SwingMeasurement m = angles_of(fits);
  if (!rig_friction) doubt_blow(fits.apart, m);
  m.remarks.insert(m.remarks.begin(), about_choice.begin(), about_choice.end());
  return pendulum != nullptr ? with_energies(std::move(m), fits, *pendulum) : m;
}

bool is_clear(const Result<SwingMeasurement>& m) {
  return m.ok() && m.value().outcome != Outcome::Unclear && m.value().release_angle_rad;
}

/// Whether a stretch shows the swing, and the whole at most what came after it: by itself no
/// arm swings higher than it did before.
bool shows_more(const Result<SwingMeasurement>& part, const Result<SwingMeasurement>& whole) {
  if (!is_clear(part) || !is_clear(whole)) return is_clear(part);
  const Uncertain& lower = *whole.value().release_angle_rad;
  const Uncertain& higher = *part.value().release_angle_rad;
  return higher.value() > lower.value() + 3.0 * std::hypot(higher.u(), lower.u());
}

Remark speed_remark(double until_s) {
  return {"speed-changes",
          Severity::Note,
          "After " + fixed_text(until_s, 2) +
              " s the clip goes on at another speed (slow motion that begins or ends in it?); "
              "what follows was not used."};
}

}  // namespace

Result<SwingMeasurement> measure_swing(const AngleTrack& track,
                                       const Pendulum* pendulum,
                                       const SwingOptions& options) {
  Result<SwingMeasurement> whole = at_one_speed(track, pendulum, options);
  const OrientedTrack rough = thinned(without_wild(as_it_stands(track)), kRoughSamples);
  if (rough.samples.size() < kFewestSamples) return whole;
  // Where a swing was measured, another one can only have gone before it.
  const std::optional<double> release_s =
      is_clear(whole) ? whole.value().events.release_s : std::nullopt;
  const double latest_s = release_s ? *release_s + 2.0 * rough.interval_s : 1e300;
  const std::optional<double> until_s = speed_change_s(rough.samples, latest_s);
  if (!until_s) return whole;
  Result<SwingMeasurement> part =
      at_one_speed(stretch_of(track, -1e300, *until_s), pendulum, options);
  if (!shows_more(part, whole)) return whole;
  SwingMeasurement m = std::move(part).value();
  m.remarks.push_back(speed_remark(*until_s));
  return m;
}

}  // namespace swingloss
