// SPDX-License-Identifier: Apache-2.0
#include "ranking/belief.h"

#include "core/expects.h"
#include "metrology/distributions.h"
#include "ranking/censored_likelihood.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

/// Score of the mean's place in a censored group: the profile's fall, turned into the t that
/// would make the same fall in a plain group, turned into a normal score.
double score_of_fall(double fall, int n) {
  const double degrees_of_freedom = n - 1.0;
  const double t = std::sqrt(degrees_of_freedom * std::expm1(2.0 * std::max(0.0, fall) / n));
  const double tail = student_upper_tail(t, degrees_of_freedom);
  return tail <= 0.0 ? 40.0 : -normal_quantile(std::min(tail, 0.5));
}

/// One side of a profile: places going outward with their scores, until past `reach`.
struct Side {
  std::vector<double> score, place;
};

Side walk(const CensoredSet& set, const CensoredFit& fit, double reach, double direction) {
  Side side{{0.0}, {fit.location}};
  double step = fit.u_location / 16.0;
  double place = fit.location;
  // Steps grow by a tenth: fine where the curve bends, short of 400 steps even where few
  // broken bars leave a tail over many decades.
  for (int i = 0; i < 2000 && side.score.back() < reach; ++i) {
    place += direction * step;
    step *= 1.1;
    const double fall = fit.log_likelihood - maximise_scale(set, place);
    side.score.push_back(std::max(side.score.back() + 1e-9, score_of_fall(fall, set.size())));
    side.place.push_back(place);
  }
  return side;
}

/// Place at a score between two nodes, straight.
double place_at(const Side& side, double score) {
  const auto above = std::upper_bound(side.score.begin(), side.score.end(), score);
  if (above == side.score.end()) return side.place.back();
  const auto i = static_cast<std::size_t>(above - side.score.begin());
  const double share = (score - side.score[i - 1]) / (side.score[i] - side.score[i - 1]);
  return side.place[i - 1] + share * (side.place[i] - side.place[i - 1]);
}

/// Smallest value of a function with one valley between two ends.
template <typename Function>
double golden_minimum(Function valley, double low, double high) {
  constexpr double kGolden = 0.61803398874989485;
  double a = high - kGolden * (high - low);
  double b = low + kGolden * (high - low);
  double at_a = valley(a);
  double at_b = valley(b);
  for (int i = 0; i < 30; ++i) {
    if (at_a < at_b) {
      high = b;
      b = a;
      at_b = at_a;
      a = high - kGolden * (high - low);
      at_a = valley(a);
    } else {
      low = a;
      a = b;
      at_a = at_b;
      b = low + kGolden * (high - low);
      at_b = valley(b);
    }
  }
  return std::min(at_a, at_b);
}

/// Smallest sum of squared scores over common means, second shifted by `difference`.
double best_common(const Belief& first, const Belief& second, double difference) {
  // In the first group's score the sum is smooth; between the two middles it has its minimum.
  const auto sum_at = [&](double score) {
    const double other = second.score_of(first.at(score) - difference);
    return score * score + other * other;
  };
  const double far = first.score_of(second.at(0.0) + difference);
  double low = std::min(0.0, far);
  double high = std::max(0.0, far);
  constexpr int kPieces = 32;
  int best = 0;
  double smallest = sum_at(low);
  const double width = (high - low) / kPieces;
  for (int i = 1; i <= kPieces; ++i) {
    const double sum = sum_at(low + i * width);
    if (sum < smallest) {
      smallest = sum;
      best = i;
    }
  }
  const double centre = low + best * width;
  return std::min(smallest, golden_minimum(sum_at, centre - width, centre + width));
}

/// Difference at which the sum reaches `wanted`, going outward; nothing when it never does.
std::optional<double> difference_end(const Belief& first,
                                     const Belief& second,
                                     double wanted,
                                     double direction) {
  const double middle = first.at(0.0) - second.at(0.0);
  const double outer =
      direction > 0.0 ? first.at(5.0) - second.at(-5.0) : first.at(-5.0) - second.at(5.0);
  double inside = middle;
  double outside = outer;
  if (best_common(first, second, outside) < wanted) return std::nullopt;
  for (int halving = 0; halving < 36; ++halving) {
    const double difference = 0.5 * (inside + outside);
    (best_common(first, second, difference) < wanted ? inside : outside) = difference;
  }
  return 0.5 * (inside + outside);
}

}  // namespace

Belief Belief::of_mean(double mean, double u, double degrees_of_freedom) {
  expects(u >= 0.0, "a belief with negative uncertainty");
  Belief belief;
  belief.nodes_.resize(kNodes);
  const bool normal = !std::isfinite(degrees_of_freedom);
  for (int i = 0; i <= kNodes / 2; ++i) {
    const double score = node_score(i);
    const double t = normal || score == 0.0
                         ? score
                         : student_quantile(normal_cdf(score), degrees_of_freedom);
    belief.nodes_[static_cast<std::size_t>(i)] = mean + u * t;
    belief.nodes_[static_cast<std::size_t>(kNodes - 1 - i)] = mean - u * t;
  }
  return belief;
}

Belief Belief::of_censored(const std::vector<CensoredValue>& values, const CensoredFit& fit) {
  const CensoredSet set = sort_by_limit(values, fit.scatter);
  const Side down = walk(set, fit, kReach, -1.0);
  const Side up = walk(set, fit, kReach, 1.0);
  Belief belief;
  for (int i = 0; i < kNodes; ++i) {
    const double score = node_score(i);
    belief.nodes_.push_back(score < 0.0 ? place_at(down, -score) : place_at(up, score));
  }
  return belief;
}

Belief Belief::of_range(double floor, double low, double high, double below) {
  expects(floor <= low && low <= high && below >= 0.0 && below < 1.0,
          "a range belief out of order");
  Belief belief;
  for (int i = 0; i < kNodes; ++i) {
    const double p = normal_cdf(node_score(i));
    const double share = p < below ? p / below : (p - below) / (1.0 - below);
    belief.nodes_.push_back(p < below ? floor + share * (low - floor)
                                      : low + share * (high - low));
  }
  return belief;
}

Belief Belief::scaled(double offset, double factor) const {
  expects(factor >= 0.0, "a belief scaled by a negative factor");
  Belief belief = *this;
  for (double& node : belief.nodes_) node = offset + factor * node;
  return belief;
}

Belief Belief::logarithm() const {
  const double middle = at(0.0);
  expects(middle > 0.0, "the logarithm of a mean that is not above zero");
  Belief belief = *this;
  for (double& node : belief.nodes_) node = std::log(std::max(node, 1e-6 * middle));
  return belief;
}

double Belief::at(double score) const {
  const double place = (std::clamp(score, -kReach, kReach) + kReach) * kPerUnit;
  const auto i = std::min(static_cast<std::size_t>(place), nodes_.size() - 2);
  return nodes_[i] + (place - static_cast<double>(i)) * (nodes_[i + 1] - nodes_[i]);
}

double Belief::score_of(double value) const {
  if (value <= nodes_.front()) return -kReach;
  if (value >= nodes_.back()) return kReach;
  const auto above = std::upper_bound(nodes_.begin(), nodes_.end(), value);
  const auto i = static_cast<std::size_t>(above - nodes_.begin());
  const double share = (value - nodes_[i - 1]) / (nodes_[i] - nodes_[i - 1]);
  return node_score(static_cast<int>(i) - 1) + share / kPerUnit;
}

double equal_beliefs_p(const Belief& first, const Belief& second, double shrink) {
  expects(shrink > 0.0 && shrink <= 1.0, "a comparison cannot gain by shared doubt");
  return 2.0 * normal_upper_tail(std::sqrt(shrink * best_common(first, second, 0.0)));
}

Interval belief_difference(const Belief& first,
                           const Belief& second,
                           double confidence,
                           double shrink) {
  expects(shrink > 0.0 && shrink <= 1.0, "a comparison cannot gain by shared doubt");
  const double z = normal_quantile(0.5 + confidence / 2.0);
  return {difference_end(first, second, z * z / shrink, -1.0),
          difference_end(first, second, z * z / shrink, 1.0)};
}

double belief_above(const Belief& first, const Belief& second, double limit, double shrink) {
  const double score = std::sqrt(shrink * best_common(first, second, limit));
  const bool above = first.at(0.0) - second.at(0.0) > limit;
  return above ? normal_upper_tail(score) : normal_cdf(score);
}

}  // namespace swingloss
