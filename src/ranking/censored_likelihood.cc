// SPDX-License-Identifier: Apache-2.0
#include "ranking/censored_likelihood.h"

#include "core/angle.h"
#include "core/expects.h"
#include "ranking/normal_tail.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include <Eigen/Cholesky>

namespace swingloss {
namespace {

const double kHalfLogTwoPi = 0.5 * std::log(2.0 * kPi);

/// ln L with its first two derivatives by (location_1/scale, ..., 1/scale).
struct Slope {
  double log_likelihood = 0.0;
  Eigen::VectorXd gradient;
  Eigen::MatrixXd hessian;

  explicit Slope(Eigen::Index size)
      : gradient(Eigen::VectorXd::Zero(size)), hessian(Eigen::MatrixXd::Zero(size, size)) {}

  /// Adds a term whose derivative by (eta, h) is `first` along (1, direction) and whose second
  /// derivative along it is -`bend`.
  void add(Eigen::Index group, double direction, double first, double bend) {
    const Eigen::Index last = gradient.size() - 1;
    gradient(group) += first;
    gradient(last) += direction * first;
    hessian(group, group) -= bend;
    hessian(group, last) -= direction * bend;
    hessian(last, group) -= direction * bend;
    hessian(last, last) -= direction * direction * bend;
  }
};

/// One bound: ln Phi(x) with x = sign (eta - h limit).
void add_bound(Slope& slope, Eigen::Index group, double limit, double sign, double x) {
  const double ratio = tail_ratio(x);
  slope.log_likelihood += log_normal_cdf(x);
  slope.add(group, -limit, sign * ratio, ratio * (x + ratio));
}

Slope slope_at(const std::vector<CensoredSet>& sets, const Eigen::VectorXd& at) {
  Slope slope(at.size());
  const double h = at(at.size() - 1);
  for (std::size_t g = 0; g < sets.size(); ++g) {
    const auto group = static_cast<Eigen::Index>(g);
    const double eta = at(group);
    for (const double y : sets[g].exact) {
      const double z = h * y - eta;
      slope.log_likelihood += std::log(h) - 0.5 * z * z - kHalfLogTwoPi;
      slope.add(group, -y, z, 1.0);
      slope.gradient(at.size() - 1) += 1.0 / h;
      slope.hessian(at.size() - 1, at.size() - 1) -= 1.0 / (h * h);
    }
    for (const double c : sets[g].above) add_bound(slope, group, c, 1.0, eta - h * c);
    for (const double c : sets[g].below) add_bound(slope, group, c, -1.0, h * c - eta);
  }
  return slope;
}

/// Where the values lie and how far they spread: makes the numbers of a fit near one.
struct Scaling {
  double centre = 0.0, spread = 1.0;
};

Scaling scaling_of(const std::vector<CensoredSet>& sets) {
  double low = std::numeric_limits<double>::infinity();
  double high = -low;
  for (const CensoredSet& set : sets) {
    for (const auto* values : {&set.exact, &set.above, &set.below}) {
      if (values->empty()) continue;
      const auto [least, most] = std::minmax_element(values->begin(), values->end());
      low = std::min(low, *least);
      high = std::max(high, *most);
    }
  }
  return {0.5 * (low + high), std::max(high - low, std::numeric_limits<double>::min())};
}

std::vector<CensoredSet> scaled(std::vector<CensoredSet> sets, const Scaling& scaling) {
  for (CensoredSet& set : sets) {
    for (auto* values : {&set.exact, &set.above, &set.below}) {
      for (double& value : *values) value = (value - scaling.centre) / scaling.spread;
    }
  }
  return sets;
}

/// Start: every bound taken for a value.
Eigen::VectorXd start_of(const std::vector<CensoredSet>& sets) {
  Eigen::VectorXd start(static_cast<Eigen::Index>(sets.size()) + 1);
  double squares = 0.0;
  double count = 0.0;
  for (std::size_t g = 0; g < sets.size(); ++g) {
    std::vector<double> all = sets[g].exact;
    all.insert(all.end(), sets[g].above.begin(), sets[g].above.end());
    all.insert(all.end(), sets[g].below.begin(), sets[g].below.end());
    double sum = 0.0;
    for (const double value : all) sum += value;
    const double mean = sum / static_cast<double>(all.size());
    for (const double value : all) squares += (value - mean) * (value - mean);
    count += static_cast<double>(all.size());
    start(static_cast<Eigen::Index>(g)) = mean;
  }
  const double h = 1.0 / std::sqrt(squares / count);
  start *= h;
  start(start.size() - 1) = h;
  return start;
}

/// One damped Newton step. \return how much ln L promised to rise before the step
double newton_step(const std::vector<CensoredSet>& sets, Eigen::VectorXd& at) {
  const Slope here = slope_at(sets, at);
  const Eigen::VectorXd step = (-here.hessian).ldlt().solve(here.gradient);
  const double promise = here.gradient.dot(step);
  double share = 1.0;
  for (int halving = 0; halving < 60; ++halving, share *= 0.5) {
    const Eigen::VectorXd there = at + share * step;
    if (there(there.size() - 1) <= 0.0) continue;
    // Close to the top rounding decides which of two values is larger; the step is right.
    const bool close = promise < 1e-9;
    if (close || slope_at(sets, there).log_likelihood >= here.log_likelihood) {
      at = there;
      break;
    }
  }
  return promise;
}

/// ln L by 1/scale alone, location fixed: value and two derivatives.
struct ScaleSlope {
  double log_likelihood = 0.0, first = 0.0, second = 0.0;
};

ScaleSlope scale_slope(const CensoredSet& set, double location, double squares, double h) {
  const double r = static_cast<double>(set.exact.size());
  ScaleSlope slope;
  slope.log_likelihood = r * (std::log(h) - kHalfLogTwoPi) - 0.5 * h * h * squares;
  slope.first = r / h - h * squares;
  slope.second = -r / (h * h) - squares;
  const auto add = [&](double distance) {
    const double ratio = tail_ratio(h * distance);
    slope.log_likelihood += log_normal_cdf(h * distance);
    slope.first += distance * ratio;
    slope.second -= distance * distance * ratio * (h * distance + ratio);
  };
  for (const double c : set.above) add(location - c);
  for (const double c : set.below) add(c - location);
  return slope;
}

/// The limit of ln L over all scales when every value is a bound: scale to zero where each
/// bound agrees with the location, to infinity where none does.
double bounds_only(const CensoredSet& set, double location) {
  double agreeing = 0.0;
  for (const double c : set.above) agreeing += location > c ? 1.0 : 0.0;
  for (const double c : set.below) agreeing += location < c ? 1.0 : 0.0;
  const double n = set.size();
  if (agreeing == n) return 0.0;
  double best = n * std::log(0.5);
  for (int k = -40; k <= 40; ++k) {
    best = std::max(best, scale_slope(set, location, 0.0, std::pow(2.0, k)).log_likelihood);
  }
  return best;
}

}  // namespace

bool all_positive(const std::vector<CensoredValue>& values) {
  return std::all_of(
      values.begin(), values.end(), [](const CensoredValue& v) { return v.value > 0.0; });
}

CensoredSet sort_by_limit(const std::vector<CensoredValue>& values, Scatter scatter) {
  CensoredSet set;
  for (const CensoredValue& given : values) {
    expects(std::isfinite(given.value), "a censored value is not finite");
    double value = given.value;
    if (scatter == Scatter::LogNormal) {
      expects(value > 0.0, "the logarithm of a value that is not above zero");
      value = std::log(value);
      if (given.limit == Limit::None) set.log_jacobian -= value;
    }
    if (given.limit == Limit::None) set.exact.push_back(value);
    if (given.limit == Limit::Above) set.above.push_back(value);
    if (given.limit == Limit::Below) set.below.push_back(value);
  }
  return set;
}

bool has_scatter(const CensoredSet& set) {
  return std::any_of(set.exact.begin(), set.exact.end(), [&](double value) {
    return value != set.exact.front();
  });
}

CommonScaleFit maximise(const std::vector<CensoredSet>& sets) {
  for (const CensoredSet& set : sets) {
    expects(!set.exact.empty(), "a location without an exact value");
  }
  const Scaling scaling = scaling_of(sets);
  const std::vector<CensoredSet> near_one = scaled(sets, scaling);
  Eigen::VectorXd at = start_of(near_one);
  double promise = 1.0;
  for (int step = 0; step < 500 && promise > 1e-20; ++step) promise = newton_step(near_one, at);
  expects(promise < 1e-9, "the censored likelihood found no maximum");

  const double h = at(at.size() - 1);
  CommonScaleFit fit;
  fit.scale = scaling.spread / h;
  fit.log_likelihood = slope_at(near_one, at).log_likelihood;
  for (std::size_t g = 0; g < sets.size(); ++g) {
    fit.locations.push_back(scaling.centre +
                            scaling.spread * at(static_cast<Eigen::Index>(g)) / h);
    fit.log_likelihood += sets[g].log_jacobian -
                          static_cast<double>(sets[g].exact.size()) * std::log(scaling.spread);
  }
  return fit;
}

double maximise_scale(const CensoredSet& set, double location) {
  if (set.exact.empty()) return bounds_only(set, location);
  double squares = 0.0;
  for (const double y : set.exact) squares += (y - location) * (y - location);
  expects(squares > 0.0, "all exact values equal the location: no scale is the most likely");
  double h = std::sqrt(static_cast<double>(set.exact.size()) / squares);
  for (int step = 0; step < 200; ++step) {
    const ScaleSlope slope = scale_slope(set, location, squares, h);
    const double change = -slope.first / slope.second;
    // ln L is concave in h: a step that would leave h > 0 is shortened, any other converges
    // from below after at most one overshoot.
    h = change <= -h ? 0.25 * h : h + change;
    if (std::abs(change) < 1e-12 * h) break;
  }
  return scale_slope(set, location, squares, h).log_likelihood + set.log_jacobian;
}

Eigen::Matrix2d observed_information(const CensoredSet& set, double location, double scale) {
  Eigen::Matrix2d information = Eigen::Matrix2d::Zero();
  const auto add = [&](double by_location, double mixed, double by_log_scale) {
    information(0, 0) += by_location / (scale * scale);
    information(0, 1) += mixed / scale;
    information(1, 1) += by_log_scale;
  };
  for (const double y : set.exact) {
    const double z = (y - location) / scale;
    add(1.0, 2.0 * z, 2.0 * z * z);
  }
  const auto add_bound_at = [&](double x, double sign) {
    const double ratio = tail_ratio(x);
    const double bend = ratio * (x + ratio);
    add(bend, sign * (ratio - x * bend), x * x * bend - x * ratio);
  };
  for (const double c : set.above) add_bound_at((location - c) / scale, 1.0);
  for (const double c : set.below) add_bound_at((c - location) / scale, -1.0);
  information(1, 0) = information(0, 1);
  return information;
}

}  // namespace swingloss
