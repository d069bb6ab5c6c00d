// SPDX-License-Identifier: Apache-2.0
#include "ranking/shared_sources.h"

#include "core/expects.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

namespace swingloss {
namespace {

CombinedVariance sum_of_squares(const Eigen::RowVectorXd& parts,
                                const std::vector<double>& degrees_of_freedom) {
  std::vector<std::pair<double, double>> terms;
  for (Eigen::Index k = 0; k < parts.size(); ++k) {
    terms.emplace_back(parts(k) * parts(k), degrees_of_freedom[static_cast<std::size_t>(k)]);
  }
  return combine_variances(terms);
}

/// What is left when two groups' contributions cancel but for rounding is no doubt.
Eigen::RowVectorXd without_rounding(Eigen::RowVectorXd difference,
                                    const Eigen::RowVectorXd& a,
                                    const Eigen::RowVectorXd& b) {
  for (Eigen::Index k = 0; k < difference.size(); ++k) {
    const double size = std::abs(a(k)) + std::abs(b(k));
    if (std::abs(difference(k)) <= 1e-12 * size) difference(k) = 0.0;
  }
  return difference;
}

Eigen::Index row(std::size_t group) { return static_cast<Eigen::Index>(group); }

/// What the value of one bar owes to sources that it shares.
std::vector<Contribution> shared_parts(const Bar& bar, Quantity quantity) {
  const std::optional<Uncertain>& value = quantity_of(bar, quantity);
  expects(value.has_value(), "shared sources of an absent value");
  std::vector<Contribution> shared;
  for (const Contribution& part : value->parts()) {
    if (part.kind == SourceKind::Shared) shared.push_back(part);
  }
  return shared;
}

/// The degrees of freedom of each source: the fewest that a bar states.
std::map<std::string, double> fewest_degrees_of_freedom(
    const std::vector<Contribution>& parts) {
  std::map<std::string, double> fewest;
  for (const Contribution& part : parts) {
    const auto [place, is_new] = fewest.try_emplace(part.source, part.degrees_of_freedom);
    place->second = std::min(place->second, part.degrees_of_freedom);
  }
  return fewest;
}

}  // namespace

CombinedVariance SharedSources::of_difference(std::size_t a, std::size_t b) const {
  const Eigen::RowVectorXd first = contributions.row(row(a));
  const Eigen::RowVectorXd second = contributions.row(row(b));
  return sum_of_squares(without_rounding(first - second, first, second), degrees_of_freedom);
}

CombinedVariance SharedSources::of_log_ratio(std::size_t a,
                                             std::size_t b,
                                             double mean_a,
                                             double mean_b) const {
  const Eigen::RowVectorXd first = contributions.row(row(a)) / mean_a;
  const Eigen::RowVectorXd second = contributions.row(row(b)) / mean_b;
  return sum_of_squares(without_rounding(first - second, first, second), degrees_of_freedom);
}

CombinedVariance SharedSources::of_order(std::size_t a,
                                         std::size_t b,
                                         double mean_a,
                                         double mean_b) const {
  const Eigen::RowVectorXd first = contributions.row(row(a));
  const Eigen::RowVectorXd second = contributions.row(row(b));
  Eigen::RowVectorXd parts = without_rounding(first - second, first, second);
  if (mean_a > 0.0 && mean_b > 0.0) {
    const Eigen::RowVectorXd relative =
        without_rounding(first / mean_a - second / mean_b, first / mean_a, second / mean_b);
    parts = parts.cwiseAbs().cwiseMin(relative.cwiseAbs() * 0.5 * (mean_a + mean_b)).eval();
  }
  return sum_of_squares(parts, degrees_of_freedom);
}

CombinedVariance SharedSources::of_mean(std::size_t group) const {
  return sum_of_squares(contributions.row(row(group)), degrees_of_freedom);
}

SharedCovariance SharedSources::covariance(std::size_t a, std::size_t b) const {
  SharedCovariance shared;
  const auto first = contributions.row(row(a));
  const auto second = contributions.row(row(b));
  shared.first = first.squaredNorm();
  shared.second = second.squaredNorm();
  shared.between = first.dot(second);
  shared.degrees_of_freedom = of_difference(a, b).degrees_of_freedom;
  return shared;
}

SharedSources shared_sources(const std::vector<Bar>& bars,
                             const std::vector<std::vector<std::size_t>>& members,
                             Quantity quantity) {
  std::vector<Contribution> all;
  for (const std::vector<std::size_t>& group : members) {
    for (const std::size_t i : group) {
      const std::vector<Contribution> parts = shared_parts(bars[i], quantity);
      all.insert(all.end(), parts.begin(), parts.end());
    }
  }
  SharedSources sources;
  std::map<std::string, Eigen::Index> column;
  for (const auto& [name, nu] : fewest_degrees_of_freedom(all)) {
    column[name] = static_cast<Eigen::Index>(sources.names.size());
    sources.names.push_back(name);
    sources.degrees_of_freedom.push_back(nu);
  }
  sources.contributions = Eigen::MatrixXd::Zero(row(members.size()), row(sources.names.size()));
  for (std::size_t g = 0; g < members.size(); ++g) {
    const double share = 1.0 / std::max(1.0, static_cast<double>(members[g].size()));
    for (const std::size_t i : members[g]) {
      for (const Contribution& part : shared_parts(bars[i], quantity))
        sources.contributions(row(g), column[part.source]) += share * part.signed_u;
    }
  }
  return sources;
}

}  // namespace swingloss
