// SPDX-License-Identifier: Apache-2.0
#include "swing/doubt_size.h"

#include "core/angle.h"
#include "swing/joint_priors.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <string>

#include <Eigen/Dense>

namespace swingloss {
namespace {

/// Sizes tried, each 1/sqrt(2) of the one before.
constexpr int kSizes = 13;
/// As good as none: as likely beforehand as all others together.
constexpr double kNone = 1e-3;
/// Scales of the noise tried, about that of the fit.
constexpr int kScales = 15;
constexpr double kScaleStep = 1.15;

/// The linearised problem about a fit: half its sum of squares is
/// 1/2 x'(G/v + P)x - (g/v + h)'x + constants, for noise of v times the variance of the fit.
struct Linear {
  Eigen::MatrixXd gram;
  Eigen::VectorXd toward;
  double squares = 0.0;
  double count = 0.0;
  Eigen::MatrixXd precision;         ///< of priors and levels at size 1
  Eigen::VectorXd pull;              ///< their descent direction at the fit
  std::vector<Eigen::Index> family;  ///< places among the free parameters
  Eigen::VectorXd scores;            ///< of the family at the fit
};

Linear linear_at(const JointProblem& problem,
                 const JointFit& fit,
                 const std::vector<Eigen::Index>& columns) {
  const JointPriors priors = priors_of(problem);
  const Predicted at = predict(problem, fit.parameters);
  std::vector<Eigen::Index> rows;
  for (std::size_t i = 0; i < fit.used.size(); ++i) {
    if (fit.used[i]) rows.push_back(static_cast<Eigen::Index>(i));
  }
  Eigen::VectorXd per_sigma(static_cast<Eigen::Index>(rows.size()));
  for (Eigen::Index k = 0; k < per_sigma.size(); ++k) {
    const Eigen::Index i = rows[static_cast<std::size_t>(k)];
    const double u_rad = problem.points[static_cast<std::size_t>(i)].u_rad;
    per_sigma[k] = 1.0 / std::hypot(std::max(1.0, fit.noise.scale) * u_rad,
                                    fit.noise.jitter_s * fit.omega_rad_per_s[i]);
  }
  const Eigen::MatrixXd whitened =
      per_sigma.asDiagonal() * at.value.jacobian(rows, priors.free);
  const Eigen::VectorXd residual = fit.residual_rad(rows).cwiseProduct(per_sigma);
  Linear linear;
  linear.gram = whitened.transpose() * whitened;
  linear.toward = whitened.transpose() * residual;
  linear.squares = residual.squaredNorm();
  linear.count = static_cast<double>(rows.size());
  linear.precision = priors.information(problem, at.value);
  linear.pull = priors.pull(problem, at.value, fit.parameters);
  const ParameterPlaces places(problem);
  linear.scores.resize(static_cast<Eigen::Index>(columns.size()));
  for (std::size_t j = 0; j < columns.size(); ++j) {
    const Eigen::Index place = places.doubt(columns[j]);
    const auto found = std::find(priors.free.begin(), priors.free.end(), place);
    linear.family.push_back(found - priors.free.begin());
    linear.scores[static_cast<Eigen::Index>(j)] = fit.parameters[place];
  }
  return linear;
}

/// Logarithm of the marginal likelihood, up to what is the same for all sizes and scales.
double log_evidence(const Linear& linear, double size, double variance) {
  const double extra = 1.0 / (size * size) - 1.0;
  Eigen::MatrixXd information = linear.gram / variance + linear.precision;
  Eigen::VectorXd toward = linear.toward / variance + linear.pull;
  for (std::size_t j = 0; j < linear.family.size(); ++j) {
    const Eigen::Index at = linear.family[j];
    information(at, at) += extra;
    toward[at] -= extra * linear.scores[static_cast<Eigen::Index>(j)];
  }
  const Eigen::VectorXd scale = information.diagonal().cwiseSqrt();
  const Eigen::MatrixXd unit =
      scale.cwiseInverse().asDiagonal() * information * scale.cwiseInverse().asDiagonal();
  const Eigen::LDLT<Eigen::MatrixXd> solver(unit);
  const Eigen::VectorXd scaled = toward.cwiseQuotient(scale);
  const double log_determinant =
      2.0 * scale.array().log().sum() + solver.vectorD().array().max(1e-300).log().sum();
  const double squares = linear.squares / variance + extra * linear.scores.squaredNorm() -
                         scaled.dot(solver.solve(scaled));
  return -0.5 * squares - 0.5 * linear.count * std::log(variance) - 0.5 * log_determinant -
         static_cast<double>(linear.family.size()) * std::log(size);
}

}  // namespace

double size_of_doubts(const JointProblem& problem,
                      const JointFit& fit,
                      const std::vector<Eigen::Index>& columns,
                      double largest) {
  const Linear linear = linear_at(problem, fit, columns);
  std::vector<double> sizes;
  std::vector<double> evidence;
  for (int i = 0; i <= kSizes; ++i) {
    const double size = i < kSizes ? largest * std::pow(0.5, 0.5 * i) : kNone * largest;
    const double before = i < kSizes ? 0.0 : std::log(kSizes);
    for (int k = 0; k < kScales; ++k) {
      const double scale = std::pow(kScaleStep, k - kScales / 2);
      sizes.push_back(size);
      evidence.push_back(before + log_evidence(linear, size, scale * scale));
    }
  }
  const double best = *std::max_element(evidence.begin(), evidence.end());
  double weights = 0.0;
  double squares = 0.0;
  for (std::size_t i = 0; i < sizes.size(); ++i) {
    const double weight = std::exp(evidence[i] - best);
    weights += weight;
    squares += weight * sizes[i] * sizes[i];
  }
  return std::sqrt(squares / weights);
}

OrientedTrack with_place_doubts(OrientedTrack track) {
  constexpr double kLargest_rad = 0.1 * kPi / 180.0, kSpacing_rad = 0.3;
  if (track.stated_doubts > 0 || track.samples.empty()) return track;
  const auto by_angle = [](const AngleSample& a, const AngleSample& b) {
    return a.theta_rad < b.theta_rad;
  };
  const auto [low, high] =
      std::minmax_element(track.samples.begin(), track.samples.end(), by_angle);
  const auto bumps = static_cast<Eigen::Index>(
      2.0 + std::min(2.0 * kPi, high->theta_rad - low->theta_rad) / kSpacing_rad);
  const auto n = static_cast<Eigen::Index>(track.samples.size());
  track.shapes_rad = Eigen::MatrixXd(n, bumps);
  for (Eigen::Index j = 0; j < bumps; ++j) {
    const double from_middle = static_cast<double>(j) - 0.5 * static_cast<double>(bumps - 1);
    const double centre_rad =
        0.5 * (low->theta_rad + high->theta_rad) + from_middle * kSpacing_rad;
    for (Eigen::Index i = 0; i < n; ++i) {
      const double off = track.samples[static_cast<std::size_t>(i)].theta_rad - centre_rad;
      track.shapes_rad(i, j) =
          kLargest_rad * std::exp(-0.5 * std::pow(off / (0.7 * kSpacing_rad), 2));
    }
    track.doubt_sources.push_back("track.place-" + std::to_string(j + 1));
    track.doubt_families.emplace_back("track.place");
  }
  track.doubt_sizes = Eigen::VectorXd::Ones(bumps);
  return track;
}

bool has_families(const OrientedTrack& track) {
  return std::any_of(track.doubt_families.begin(),
                     track.doubt_families.end(),
                     [](const std::string& family) { return !family.empty(); });
}

OrientedTrack resized(OrientedTrack track, const JointProblem& problem, const JointFit& fit) {
  std::map<std::string, std::vector<Eigen::Index>> families;
  for (std::size_t j = 0; j < track.doubt_families.size(); ++j) {
    if (!track.doubt_families[j].empty())
      families[track.doubt_families[j]].push_back(static_cast<Eigen::Index>(j));
  }
  for (const auto& [name, columns] : families) {
    const double now = track.doubt_sizes[columns.front()];
    const double size = size_of_doubts(problem, fit, columns, 1.0 / now);
    for (const Eigen::Index j : columns) {
      track.shapes_rad.col(j) *= size;
      track.doubt_sizes[j] = size * now;
    }
    track.u_place_rad *= size;
  }
  return track;
}

}  // namespace swingloss
