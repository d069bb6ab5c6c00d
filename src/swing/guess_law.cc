// SPDX-License-Identifier: Apache-2.0
#include "swing/guess_law.h"

#include "core/angle.h"
#include "core/median.h"
#include "swing/track_legs.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include <Eigen/Dense>

namespace swingloss {
namespace {

Failure no_swing(const std::string& cause) {
  return {"no-swing",
          cause,
          "Film the whole swing: the arm held, released, through the blow and up to its first "
          "turning point."};
}

/// theta'' = -p sin theta + q cos theta.
struct Pull {
  double p = 0.0, q = 0.0;
  [[nodiscard]] double misfit(const LocalMotion& m) const {
    return m.alpha_rad_per_s2 + p * std::sin(m.theta_rad) - q * std::cos(m.theta_rad);
  }
};

Pull regressed(const std::vector<LocalMotion>& motion, const std::vector<double>& weight) {
  Eigen::Matrix2d normal = Eigen::Matrix2d::Zero();
  Eigen::Vector2d right = Eigen::Vector2d::Zero();
  for (std::size_t i = 0; i < motion.size(); ++i) {
    const Eigen::Vector2d row(-std::sin(motion[i].theta_rad), std::cos(motion[i].theta_rad));
    normal += weight[i] * row * row.transpose();
    right += weight[i] * row * motion[i].alpha_rad_per_s2;
  }
  const Eigen::Vector2d c = normal.colPivHouseholderQr().solve(right);
  return {c[0], c[1]};
}

/// 1 where the arm moves or is pulled, 0 where it is held, rests, or is not known.
std::vector<double> moving(const std::vector<LocalMotion>& motion) {
  std::vector<double> omega;
  std::vector<double> alpha;
  for (const LocalMotion& m : motion) {
    if (!m.known) continue;
    omega.push_back(std::abs(m.omega_rad_per_s));
    alpha.push_back(std::abs(m.alpha_rad_per_s2));
  }
  std::vector<double> weight(motion.size(), 0.0);
  if (omega.empty()) return weight;
  // Nearly the largest: a jump in the track must not set the scale.
  const auto most = [](std::vector<double>& v) {
    const auto at =
        v.begin() + static_cast<std::ptrdiff_t>(0.95 * static_cast<double>(v.size() - 1));
    std::nth_element(v.begin(), at, v.end());
    return *at;
  };
  const double omega_scale = most(omega);
  const double alpha_scale = most(alpha);
  for (std::size_t i = 0; i < motion.size(); ++i) {
    const bool moves = std::abs(motion[i].omega_rad_per_s) > 0.12 * omega_scale;
    const bool pulled = std::abs(motion[i].alpha_rad_per_s2) > 0.2 * alpha_scale;
    if (motion[i].known && (moves || pulled)) weight[i] = 1.0;
  }
  return weight;
}

/// \param by_leg  the leg alone says what is far off, to the end: where lifts by hand make up
///                most of a long recording
std::optional<Pull> robust_pull(const std::vector<LocalMotion>& motion,
                                const Leg& leg,
                                bool by_leg) {
  const std::vector<double> eligible = moving(motion);
  std::vector<double> weight(motion.size(), 0.0);
  for (std::size_t i = leg.begin; i <= leg.end; ++i) weight[i] = eligible[i];
  Pull pull = regressed(motion, weight);
  for (int round = 0; round < 30; ++round) {
    std::vector<double> misfits;
    // At first only the leg is asked how far off is far: a long lift must not set the scale.
    for (std::size_t i = 0; i < motion.size(); ++i) {
      const bool asked = round < 10 || by_leg ? (i >= leg.begin && i <= leg.end) : true;
      if (eligible[i] > 0.0 && asked) misfits.push_back(std::abs(pull.misfit(motion[i])));
    }
    if (misfits.size() < 4) return std::nullopt;
    const double size = std::hypot(pull.p, pull.q);
    const double scale = std::max(1.5 * median_of(misfits), 0.01 * size);
    for (std::size_t i = 0; i < motion.size(); ++i) {
      const double in_scale = pull.misfit(motion[i]) / scale;
      const bool asked = round < 10 ? (i >= leg.begin && i <= leg.end) : true;
      weight[i] = asked ? eligible[i] / (1.0 + in_scale * in_scale) : 0.0;
    }
    pull = regressed(motion, weight);
  }
  return pull;
}

/// Share of the leg's moving samples whose acceleration the pull explains.
double explained_share(const std::vector<LocalMotion>& motion,
                       const Leg& leg,
                       const Pull& pull) {
  const std::vector<double> eligible = moving(motion);
  const double tolerance = 0.25 * std::hypot(pull.p, pull.q);
  double all = 0.0;
  double well = 0.0;
  for (std::size_t i = leg.begin; i <= leg.end; ++i) {
    all += eligible[i];
    if (std::abs(pull.misfit(motion[i])) < tolerance) well += eligible[i];
  }
  return all > 0.0 ? well / all : 0.0;
}

/// How far the moving samples of the leg lie off their neighbours' parabolas, as a rule.
double usual_scatter_rad(const std::vector<LocalMotion>& motion, const Leg& leg) {
  const std::vector<double> eligible = moving(motion);
  std::vector<double> scatter;
  for (std::size_t i = leg.begin; i <= leg.end; ++i) {
    if (eligible[i] > 0.0) scatter.push_back(motion[i].scatter_rad);
  }
  return scatter.empty() ? 0.0 : median_of(scatter);
}

/// Whether a leg begins where the arm was held against the pull: it stays within a hundredth of
/// a radian for a time in which, free, it would have left.
bool let_go(const std::vector<AngleSample>& samples, const Leg& leg, const Pull& pull) {
  const double at_rad = samples[leg.begin].theta_rad;
  const double pulled = std::abs(pull.q * std::cos(at_rad) - pull.p * std::sin(at_rad)) /
                        std::hypot(pull.p, pull.q);
  const auto stays = [&](std::size_t i) {
    return std::abs(samples[i].theta_rad - at_rad) < 0.01 + 8.0 * samples[i].u_rad;
  };
  std::size_t first = leg.begin;
  std::size_t last = leg.begin;
  while (first > 0 && stays(first - 1)) --first;
  while (last < leg.end && stays(last + 1)) ++last;
  const double held =
      (samples[last].t_s - samples[first].t_s) * std::sqrt(std::hypot(pull.p, pull.q));
  return pulled > 0.2 && held > 1.5;
}

/// Whether the large legs speak for the pull: three that it explains, or two of which one was
/// let go of. A hand may by chance move the arm twice as one pendulum would, but does not let
/// go of it.
bool borne_out(const std::vector<AngleSample>& samples,
               const std::vector<LocalMotion>& motion,
               const std::vector<Leg>& legs,
               const Pull& pull) {
  double largest_rad = 0.0;
  for (const Leg& leg : legs) largest_rad = std::max(largest_rad, leg.span_rad);
  int explained = 0;
  bool released = false;
  for (const Leg& leg : legs) {
    const bool large = leg.span_rad > 0.4 * largest_rad;
    if (!large || explained_share(motion, leg, pull) < 0.7) continue;
    ++explained;
    released = released || let_go(samples, leg, pull);
  }
  return explained >= (released ? 2 : 3);
}

/// How far samples count for the motion at one of them [1/w0]: usually; and where their times
/// are wrong by a good part of an interval, as a film's are that was brought to another picture
/// rate by leaving pictures out. Farther, what bends within the reach is smoothed over.
constexpr double kReach = 0.45, kWideReach = 0.9;
/// Samples farther off their parabolas than this have such times: of made tracks that no
/// pendulum made 0.005 is the most, of three films brought to 24 and 25 pictures a second 0.010
/// the least.
constexpr double kWaver_rad = 0.007;

/// The pull, and the motion on the scale of its own period, from one another; these and the
/// frequency go into `guess`.
std::optional<Pull> settled_pull(const std::vector<AngleSample>& calm,
                                 const QuickLeg& quick,
                                 bool by_leg,
                                 double reach,
                                 LawGuess& guess) {
  std::optional<Pull> pull;
  guess.natural_rad_per_s = 1.3 / quick.transit_s;
  for (int round = 0; round < 3; ++round) {
    guess.motion = local_motion(calm, reach / guess.natural_rad_per_s);
    pull = robust_pull(guess.motion, quick.leg, by_leg);
    if (!pull || std::hypot(pull->p, pull->q) <= 0.0) return std::nullopt;
    const double next = std::sqrt(std::hypot(pull->p, pull->q));
    guess.natural_rad_per_s =
        std::clamp(next, 0.3 * guess.natural_rad_per_s, 3.0 * guess.natural_rad_per_s);
  }
  return pull;
}

}  // namespace

Result<LawGuess> guess_law(const std::vector<AngleSample>& samples) {
  const std::vector<AngleSample> calm = without_spikes(samples);
  double low = 1e300;
  double high = -1e300;
  std::vector<double> u;
  for (const AngleSample& sample : calm) {
    low = std::min(low, sample.theta_rad);
    high = std::max(high, sample.theta_rad);
    u.push_back(sample.u_rad);
  }
  const double range_rad = high - low;
  if (range_rad < 12.0 * median_of(u) || range_rad < 0.005) {
    return no_swing("the angle stays the same within its own doubt");
  }
  const std::vector<AngleSample> steady = running_median(calm);
  const std::vector<Leg> legs = legs_of(steady, std::max(0.05 * range_rad, 6.0 * median_of(u)));
  const auto quick = quickest_leg(steady, legs);
  if (!quick) return no_swing("no stretch of the track moves fast with samples on the way");

  LawGuess guess;
  const auto explains = [&](const std::optional<Pull>& pull) {
    return pull && explained_share(guess.motion, quick->leg, *pull) >= 0.5;
  };
  std::optional<Pull> pull = settled_pull(calm, *quick, false, kReach, guess);
  bool believed = !pull || explains(pull);
  if (!believed) {
    const bool wavers = usual_scatter_rad(guess.motion, quick->leg) > kWaver_rad;
    pull = settled_pull(calm, *quick, true, kReach, guess);
    believed = pull && borne_out(calm, guess.motion, legs, *pull);
    if (!believed && wavers) {
      pull = settled_pull(calm, *quick, false, kWideReach, guess);
      believed = explains(pull);
    }
  }
  if (!believed) {
    return no_swing(
        "the arm does not move as a pendulum does: its acceleration does not "
        "follow the sine of its angle. So it may look from far off square too");
  }
  if (!pull) return no_swing("too little of the motion can be followed from sample to sample");
  const double zero = std::atan2(pull->q, pull->p);
  guess.zero_rad = zero + 2.0 * kPi * std::round((0.5 * (low + high) - zero) / (2.0 * kPi));
  return guess;
}

}  // namespace swingloss
