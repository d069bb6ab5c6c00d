// SPDX-License-Identifier: Apache-2.0
#include "swing/guess_law.h"

#include "core/angle.h"
#include "core/median.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include <Eigen/Dense>

namespace swingloss {
namespace {

/// From one reversal to the next.
struct Leg {
  std::size_t begin = 0, end = 0;  ///< samples of the two reversals
  double span_rad = 0.0;
};

Failure no_swing(const std::string& cause) {
  return {"no-swing",
          cause,
          "Film the whole swing: the arm held, released, through the blow and up to its first "
          "turning point."};
}

/// Zigzag: a reversal counts once the angle has come back by `threshold_rad`.
std::vector<Leg> legs_of(const std::vector<AngleSample>& samples, double threshold_rad) {
  std::vector<std::size_t> turns{0};
  std::size_t low = 0;
  std::size_t high = 0;
  int direction = 0;
  for (std::size_t i = 1; i < samples.size(); ++i) {
    const double theta = samples[i].theta_rad;
    if (theta > samples[high].theta_rad) high = i;
    if (theta < samples[low].theta_rad) low = i;
    const bool fell = samples[high].theta_rad - theta > threshold_rad;
    const bool rose = theta - samples[low].theta_rad > threshold_rad;
    if (direction >= 0 && fell) {
      turns.push_back(high);
      direction = -1;
      low = i;
    } else if (direction <= 0 && rose) {
      turns.push_back(low);
      direction = 1;
      high = i;
    }
  }
  turns.push_back(direction > 0 ? high : low);
  std::vector<Leg> legs;
  for (std::size_t k = 1; k < turns.size(); ++k) {
    if (turns[k] <= turns[k - 1]) continue;
    legs.push_back({turns[k - 1],
                    turns[k],
                    std::abs(samples[turns[k]].theta_rad - samples[turns[k - 1]].theta_rad)});
  }
  return legs;
}

/// Time to go from a fifth to four fifths of a leg; nothing with fewer than `fewest` samples
/// on the way.
std::optional<double> transit_s(const std::vector<AngleSample>& samples,
                                const Leg& leg,
                                int fewest) {
  const double from = samples[leg.begin].theta_rad;
  const double to = samples[leg.end].theta_rad;
  double last_before_s = samples[leg.begin].t_s;
  double first_beyond_s = samples[leg.end].t_s;
  int inside = 0;
  for (std::size_t i = leg.begin; i <= leg.end; ++i) {
    const double part = (samples[i].theta_rad - from) / (to - from);
    if (part < 0.2) last_before_s = samples[i].t_s;
    if (part >= 0.2 && part <= 0.8) ++inside;
    if (part > 0.8) {
      first_beyond_s = samples[i].t_s;
      break;
    }
  }
  if (inside < fewest) return std::nullopt;
  return first_beyond_s - last_before_s;
}

struct QuickLeg {
  Leg leg;
  double transit_s = 0.0;
};

std::optional<QuickLeg> quickest_leg(const std::vector<AngleSample>& samples,
                                     const std::vector<Leg>& legs) {
  double largest_rad = 0.0;
  for (const Leg& leg : legs) largest_rad = std::max(largest_rad, leg.span_rad);
  for (const int fewest : {4, 3, 2}) {
    std::optional<QuickLeg> best;
    for (const Leg& leg : legs) {
      if (leg.span_rad < 0.4 * largest_rad) continue;
      const std::optional<double> t_s = transit_s(samples, leg, fewest);
      if (t_s && (!best || *t_s < best->transit_s)) best = QuickLeg{leg, *t_s};
    }
    if (best) return best;
  }
  return std::nullopt;
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

/// The pull, and the motion on the scale of its own period, from one another; these and the
/// frequency go into `guess`.
std::optional<Pull> settled_pull(const std::vector<AngleSample>& calm,
                                 const QuickLeg& quick,
                                 bool by_leg,
                                 LawGuess& guess) {
  std::optional<Pull> pull;
  guess.natural_rad_per_s = 1.3 / quick.transit_s;
  for (int round = 0; round < 3; ++round) {
    guess.motion = local_motion(calm, 0.45 / guess.natural_rad_per_s);
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
  std::optional<Pull> pull = settled_pull(calm, *quick, false, guess);
  if (pull && explained_share(guess.motion, quick->leg, *pull) < 0.5) {
    pull = settled_pull(calm, *quick, true, guess);
    if (!pull || !borne_out(calm, guess.motion, legs, *pull)) {
      return no_swing(
          "the arm does not move as a pendulum does: its acceleration does not "
          "follow the sine of its angle. So it may look from far off square too");
    }
  }
  if (!pull) return no_swing("too little of the motion can be followed from sample to sample");
  const double zero = std::atan2(pull->q, pull->p);
  guess.zero_rad = zero + 2.0 * kPi * std::round((0.5 * (low + high) - zero) / (2.0 * kPi));
  return guess;
}

}  // namespace swingloss
