// SPDX-License-Identifier: Apache-2.0
#include "core/angle.h"
#include "core/number_text.h"
#include "swing/blow.h"
#include "swing/conclude.h"
#include "swing/energy.h"
#include "swing/swing_curve.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

/// An angle more doubtful than this is not an answer.
constexpr double kUseless_rad = 1.0 * kPi / 180.0;

std::string deg_text(double rad, int decimals = 2) {
  return fixed_text(Angle::from_rad(rad).deg(), decimals);
}

void refuse(SwingMeasurement& m, const std::string& code, const std::string& text) {
  m.remarks.push_back({code, Severity::Refusal, text});
}

void warn(SwingMeasurement& m, const std::string& code, const std::string& text) {
  m.remarks.push_back({code, Severity::Warning, text});
}

/// Time of the first and last sample used on a piece.
std::pair<double, double> reach_s(const Explained& e, std::size_t piece) {
  double first_s = 1e300;
  double last_s = -1e300;
  for (const FitPoint& point : e.problem.points) {
    if (point.piece != piece) continue;
    first_s = std::min(first_s, point.t_s);
    last_s = std::max(last_s, point.t_s);
  }
  return {first_s, last_s};
}

/// The angle with the doubt of its place, which is another at either end of the swing.
Uncertain with_place(const Uncertain& angle_rad, const Explained& e, const std::string& end) {
  if (e.track.u_place_rad <= 0.0) return angle_rad;
  return angle_rad +
         Uncertain::from(0.0, e.track.u_place_rad, "view.place-" + end, SourceKind::Shared);
}

void set_release(const ClipFits& fits, SwingMeasurement& m) {
  const Explained& e = fits.best();
  const Uncertain& release = e.values[static_cast<std::size_t>(e.places().amplitude(0))];
  const double turn_s = e.fit.parameters[e.places().turn(0)];
  const double first_s = reach_s(e, 0).first;
  const bool latch =
      std::any_of(e.problem.levels.begin(), e.problem.levels.end(), [](const FitLevel& l) {
        return l.source == "rig.release-angle";
      });
  if (!e.plan.fall.start_seen && turn_s < first_s - 0.5 * e.track.interval_s && !latch) {
    refuse(m,
           "release-not-seen",
           "The clip starts when the arm is already falling, so the release angle cannot be "
           "measured. Start the recording before the release, or give release_angle_deg in "
           "the rig file where a latch fixes it.");
    return;
  }
  if (release.u() > kUseless_rad) {
    refuse(m,
           "release-too-uncertain",
           "The release angle comes out with a standard uncertainty of " +
               deg_text(release.u(), 1) +
               " degrees; more or better samples of the fall are "
               "needed.");
    return;
  }
  m.release_angle_rad = with_place(release, e, "release");
  m.events.release_s = turn_s;
}

/// The turning point after the bottom, where the clip shows it.
void set_rise(const ClipFits& fits, SwingMeasurement& m) {
  const Explained& e = fits.apart;
  if (e.problem.pieces.size() < 2) return;
  const Uncertain rise = -e.values[static_cast<std::size_t>(e.places().amplitude(1))];
  const double turn_s = e.fit.parameters[e.places().turn(1)];
  const double last_s = reach_s(e, 1).second;
  if (!e.plan.fall.turn_seen || turn_s > last_s + 0.5 * e.track.interval_s) return;
  m.events.turn_s = turn_s;
  if (rise.u() > kUseless_rad) {
    refuse(m,
           "rise-too-uncertain",
           "The rise angle comes out with a standard uncertainty of " + deg_text(rise.u(), 1) +
               " degrees; too few samples follow the blow.");
    return;
  }
  m.rise_angle_rad = with_place(rise, e, "rise");
}

void conclude_free(const ClipFits& fits, SwingMeasurement& m) {
  m.outcome = Outcome::FreeSwing;
  const Explained& e = fits.best();
  if (!fits.free) return;
  const Uncertain& release = e.values[static_cast<std::size_t>(e.places().amplitude(0))];
  if (const std::optional<Uncertain> rise = free_rise_rad(e.law(), release)) {
    m.rise_angle_rad = with_place(*rise, e, "rise");
  }
}

void conclude_rise(const ClipFits& fits, SwingMeasurement& m) {
  const std::optional<BottomEnergies> energies = bottom_energies(fits.apart);
  if (!m.events.turn_s || !energies) {
    m.rise_angle_rad.reset();
    refuse(
        m,
        "turn-not-seen",
        "The clip, or this part of it, ends before the arm's first turning point after the "
        "blow, so the rise angle cannot be measured. Record until the arm has come to rest.");
    return;
  }
  switch (judge_drop(fits.apart, *energies)) {
    case DropVerdict::Blow:
      if (m.rise_angle_rad && m.release_angle_rad) m.outcome = Outcome::Broken;
      return;
    case DropVerdict::None:
      conclude_free(fits, m);
      return;
    case DropVerdict::CannotTell:
      break;
  }
  refuse(m,
         "blow-or-friction",
         "The arm lost energy at the bottom, but not more than friction could explain as far "
         "as this clip shows. Give the rig's friction (from free-swing clips), or record "
         "several swings after the blow.");
}

void conclude_stopped(const ClipFits& fits, SwingMeasurement& m) {
  if (m.release_angle_rad) m.outcome = Outcome::NotBroken;
  m.rise_angle_rad.reset();
  if (fits.apart.plan.fall.after == AfterFall::Rebound) set_rise(fits, m);
  m.remarks.push_back(
      {"bar-not-broken",
       Severity::Note,
       fits.apart.plan.fall.after == AfterFall::Rebound
           ? "The bar threw the hammer back: it took less energy for good than "
             "was available, and more than that would be needed to break it."
           : "The hammer stopped at the bar: breaking it would need more energy "
             "than was available."});
}

void remark_on_fit(const Explained& e, SwingMeasurement& m) {
  const auto all = static_cast<double>(e.fit.used.size());
  const auto used = static_cast<double>(std::count(e.fit.used.begin(), e.fit.used.end(), true));
  if (used < 0.8 * all) {
    warn(m,
         "many-outliers",
         fixed_text(100.0 * (1.0 - used / all), 0) +
             " % of the samples are not on the fitted swing and were left out.");
  }
  if (e.fit.scatter_in_u > 3.0 && e.fit.noise.jitter_s == 0.0) {
    warn(m,
         "scatter-above-u",
         "The samples scatter " + significant_text(e.fit.scatter_in_u, 2) +
             " times as much about the fitted swing as their own uncertainty says; the stated "
             "uncertainties were widened by that.");
  }
  if (e.fit.noise.jitter_s > 0.0) {
    m.remarks.push_back({"time-jitter",
                         Severity::Note,
                         "Residuals grow with speed, as time stamps that waver by " +
                             significant_text(1e3 * e.fit.noise.jitter_s, 2) +
                             " ms would make them; fast samples were given less weight."});
  }
}

/// The longest run of points in a row that are left out of one piece, where it is a good part
/// of that piece; 0 where none is.
std::size_t run_left_out(const Explained& e) {
  constexpr std::size_t kFew = 5;
  constexpr double kGoodPart = 0.15;
  std::size_t longest = 0;
  for (std::size_t piece = 0; piece < e.problem.pieces.size(); ++piece) {
    std::size_t points = 0;
    std::size_t run = 0;
    std::size_t most = 0;
    for (std::size_t i = 0; i < e.problem.points.size(); ++i) {
      if (e.problem.points[i].piece != piece) continue;
      ++points;
      run = e.fit.used[i] ? 0 : run + 1;
      most = std::max(most, run);
    }
    if (most > kFew && static_cast<double>(most) > kGoodPart * static_cast<double>(points))
      longest = std::max(longest, most);
  }
  return longest;
}

/// Whether the fit describes the clip at all.
bool describes(const Explained& e, SwingMeasurement& m) {
  double sum = 0.0;
  double count = 0.0;
  for (std::size_t i = 0; i < e.fit.used.size(); ++i) {
    if (!e.fit.used[i]) continue;
    sum += std::pow(e.fit.residual_rad[static_cast<Eigen::Index>(i)], 2);
    count += 1.0;
  }
  const double rms_rad = std::sqrt(sum / std::max(count, 1.0));
  const double range_rad = std::abs(e.fit.parameters[e.places().amplitude(0)]);
  const bool enough = count >= 0.5 * static_cast<double>(e.fit.used.size());
  const std::size_t run = run_left_out(e);
  if (run > 0) {
    refuse(m,
           "swing-in-part",
           std::to_string(run) +
               " samples in a row are not on the swing that the others follow. Where the clip "
               "changes its speed within the swing (slow motion that begins in it), give the "
               "camera's own file; else look at the track drawn on the clip.");
    return false;
  }
  if (enough && rms_rad < 0.03 * range_rad) return true;
  refuse(m,
         "not-a-swing",
         "What was followed does not move as a free pendulum does: it is " + deg_text(rms_rad) +
             " degrees (rms) off the best swing. Look at the track drawn on the clip.");
  return false;
}

}  // namespace

SwingMeasurement angles_of(const ClipFits& fits) {
  const Explained& e = fits.best();
  SwingMeasurement m;
  m.remarks = e.remarks;
  m.direction = e.track.direction;
  m.zero_rad = e.track.direction * e.values[ParameterPlaces::kZero];
  m.natural_rad_per_s = e.values[ParameterPlaces::kNatural];
  m.fit_scatter_in_u = e.fit.scatter_in_u;
  m.time_jitter_s = e.fit.noise.jitter_s;
  m.residual_inefficiency = e.fit.inefficiency;
  const ParameterPlaces places = e.places();
  for (Eigen::Index j = 0; j < static_cast<Eigen::Index>(e.track.stated_doubts); ++j) {
    m.doubt_scores.push_back(e.track.doubt_sizes[j] *
                             e.values[static_cast<std::size_t>(places.doubt(j))]);
  }
  m.curve = curve_of(e);
  if (!describes(e, m)) return m;
  remark_on_fit(e, m);
  m.events.blow_s = e.plan.fall_bottom_s;
  set_release(fits, m);
  set_rise(fits, m);
  switch (fits.apart.plan.fall.after) {
    case AfterFall::Rise:
      conclude_rise(fits, m);
      break;
    case AfterFall::Rebound:
    case AfterFall::Stop:
      conclude_stopped(fits, m);
      break;
    case AfterFall::Unseen:
      refuse(m,
             "clip-ends-at-blow",
             "The clip, or this part of it, ends when the arm reaches the bottom. Record until "
             "the arm has come to rest.");
      break;
  }
  return m;
}

}  // namespace swingloss
