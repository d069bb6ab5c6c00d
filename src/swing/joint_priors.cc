// SPDX-License-Identifier: Apache-2.0
#include "swing/joint_priors.h"

#include "metrology/correlated.h"

#include <cmath>

#include <Eigen/Dense>

namespace swingloss {
namespace {

std::vector<Uncertain> terms_of(const UncertainLaw& law) {
  return {law.dry, law.linear, law.quadratic};
}

/// Terms of the loss that carry doubt, as places in the vector of parameters.
std::vector<Eigen::Index> doubtful_terms(const JointProblem& problem) {
  std::vector<Eigen::Index> places;
  const std::vector<Uncertain> terms = terms_of(problem.law_prior);
  for (std::size_t k = 0; k < terms.size(); ++k) {
    if (terms[k].u() > 0.0) {
      places.push_back(ParameterPlaces::kLaw + static_cast<Eigen::Index>(k));
    }
  }
  return places;
}

/// Inverse covariance of the doubtful terms. Terms that one clip fitted together may be
/// correlated up to rounding: a millionth of their variance keeps the inverse finite.
Eigen::MatrixXd law_precision(const JointProblem& problem,
                              const std::vector<Eigen::Index>& places) {
  std::vector<Uncertain> terms;
  terms.reserve(places.size());
  for (const Eigen::Index place : places) {
    terms.push_back(
        terms_of(problem.law_prior)[static_cast<std::size_t>(place - ParameterPlaces::kLaw)]);
  }
  Eigen::MatrixXd covariance = covariance_of(terms);
  covariance.diagonal() *= 1.0 + 1e-6;
  const Eigen::VectorXd per_u = covariance.diagonal().cwiseSqrt().cwiseInverse();
  const Eigen::MatrixXd unit = per_u.asDiagonal() * covariance * per_u.asDiagonal();
  return per_u.asDiagonal() * unit.inverse() * per_u.asDiagonal();
}

Eigen::VectorXd level_weights(const JointProblem& problem) {
  Eigen::VectorXd weights(static_cast<Eigen::Index>(problem.levels.size()));
  for (Eigen::Index i = 0; i < weights.size(); ++i) {
    weights[i] = std::pow(problem.levels[static_cast<std::size_t>(i)].u_rad, -2);
  }
  return weights;
}

Eigen::VectorXd level_residuals(const JointProblem& problem, const Prediction& prediction) {
  Eigen::VectorXd residuals(static_cast<Eigen::Index>(problem.levels.size()));
  for (Eigen::Index i = 0; i < residuals.size(); ++i) {
    residuals[i] =
        problem.levels[static_cast<std::size_t>(i)].theta_rad - prediction.level_rad[i];
  }
  return residuals;
}

void add_part(Uncertain& value, double signed_u, const std::string& source, SourceKind kind) {
  value = value + signed_u * Uncertain::from(0.0, 1.0, source, kind);
}

}  // namespace

Eigen::MatrixXd JointPriors::information(const JointProblem& problem,
                                         const Prediction& prediction) const {
  Eigen::MatrixXd sum = precision(free, free);
  if (!problem.levels.empty()) {
    const Eigen::MatrixXd rows = prediction.level_jacobian(Eigen::all, free);
    sum += rows.transpose() * level_weights(problem).asDiagonal() * rows;
  }
  return sum;
}

Eigen::VectorXd JointPriors::pull(const JointProblem& problem,
                                  const Prediction& prediction,
                                  const Eigen::VectorXd& parameters) const {
  Eigen::VectorXd sum = (precision * (mean - parameters))(free);
  if (!problem.levels.empty()) {
    const Eigen::MatrixXd rows = prediction.level_jacobian(Eigen::all, free);
    const Eigen::VectorXd weighted =
        level_weights(problem).cwiseProduct(level_residuals(problem, prediction));
    sum += rows.transpose() * weighted;
  }
  return sum;
}

double JointPriors::cost(const JointProblem& problem,
                         const Prediction& prediction,
                         const Eigen::VectorXd& parameters) const {
  const Eigen::VectorXd off = parameters - mean;
  double sum = off.dot(precision * off);
  if (!problem.levels.empty()) {
    const Eigen::VectorXd residuals = level_residuals(problem, prediction);
    sum += residuals.cwiseAbs2().dot(level_weights(problem));
  }
  return 0.5 * sum;
}

JointPriors priors_of(const JointProblem& problem) {
  const ParameterPlaces places(problem);
  JointPriors priors;
  priors.mean = Eigen::VectorXd::Zero(places.count());
  priors.precision = Eigen::MatrixXd::Zero(places.count(), places.count());
  const std::vector<Eigen::Index> terms = doubtful_terms(problem);
  if (!problem.frame_known) {
    priors.free = {ParameterPlaces::kZero, ParameterPlaces::kNatural};
    priors.free.insert(priors.free.end(), terms.begin(), terms.end());
    if (!terms.empty()) priors.precision(terms, terms) = law_precision(problem, terms);
    priors.mean.segment<3>(ParameterPlaces::kLaw) = problem.law_prior.law().vector();
    if (problem.natural_prior) {
      constexpr Eigen::Index k = ParameterPlaces::kNatural;
      priors.mean[k] = problem.natural_prior->value();
      priors.precision(k, k) = std::pow(problem.natural_prior->u(), -2);
    }
  }
  for (std::size_t k = 0; k < problem.pieces.size(); ++k) {
    priors.free.push_back(places.amplitude(k));
    priors.free.push_back(places.turn(k));
  }
  for (Eigen::Index j = 0; j < places.doubts && !problem.frame_known; ++j) {
    priors.free.push_back(places.doubt(j));
    priors.precision(places.doubt(j), places.doubt(j)) = 1.0;
  }
  return priors;
}

void add_prior_parts(const JointProblem& problem,
                     const Eigen::MatrixXd& covariance,
                     std::vector<Uncertain>& values) {
  if (problem.frame_known) return;
  const ParameterPlaces places(problem);
  const JointPriors priors = priors_of(problem);
  const Predicted at = predict(problem, start_of(problem));
  const std::vector<Uncertain> terms = terms_of(problem.law_prior);
  const Eigen::MatrixXd by_prior = covariance * priors.precision;
  for (std::size_t i = 0; i < values.size(); ++i) {
    const auto row = static_cast<Eigen::Index>(i);
    Uncertain& value = values[i];
    for (std::size_t k = 0; k < terms.size(); ++k) {
      const double by = by_prior(row, ParameterPlaces::kLaw + static_cast<Eigen::Index>(k));
      value = Uncertain::combine(value.value(), {{1.0, &value}, {by, &terms[k]}});
    }
    if (problem.natural_prior) {
      const double by = by_prior(row, ParameterPlaces::kNatural);
      value = Uncertain::combine(value.value(), {{1.0, &value}, {by, &*problem.natural_prior}});
    }
    for (Eigen::Index j = 0; j < places.doubts; ++j) {
      add_part(value,
               by_prior(row, places.doubt(j)),
               problem.doubt_sources[static_cast<std::size_t>(j)],
               SourceKind::Shared);
    }
    for (std::size_t l = 0; l < problem.levels.size(); ++l) {
      const FitLevel& level = problem.levels[l];
      const double by =
          at.value.level_jacobian.row(static_cast<Eigen::Index>(l)).dot(covariance.col(row));
      add_part(value, by / level.u_rad, level.source, level.kind);
    }
  }
}

}  // namespace swingloss
