// SPDX-License-Identifier: Apache-2.0
#include "swing/measure_swing.h"

#include "core/number_text.h"
#include "swing/blow.h"
#include "swing/capture_ratio.h"
#include "swing/conclude.h"
#include "swing/doubt_size.h"
#include "swing/later_decay.h"

#include <cmath>

namespace swingloss {
namespace {

/// A fit of a dozen unknowns needs more samples than that.
constexpr std::size_t kFewestSamples = 16;
/// Enough for the noise of any log; more only costs time.
constexpr std::size_t kMostSamples = 1500;

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

bool shows_no_blow(const Explained& apart) {
  const std::optional<BottomEnergies> energies = bottom_energies(apart);
  if (!energies || apart.plan.fall.after != AfterFall::Rise) return false;
  return judge_drop(apart, *energies) == DropVerdict::None;
}

}  // namespace

Result<SwingMeasurement> measure_swing(const AngleTrack& track,
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

}  // namespace swingloss
