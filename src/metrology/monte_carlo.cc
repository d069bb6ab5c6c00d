// SPDX-License-Identifier: Apache-2.0
#include "metrology/monte_carlo.h"

#include "core/angle.h"
#include "core/expects.h"
#include "core/number_text.h"
#include "metrology/coverage.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <string>

namespace swingloss {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double kInfinity = std::numeric_limits<double>::infinity();

/// Fills a vector with one draw of all inputs.
using DrawInputs = std::function<void(RandomDraws&, VectorXd&)>;

Result<MonteCarloResult> run(const Model& model,
                             std::size_t input_count,
                             const DrawInputs& draw_inputs,
                             const MonteCarloOptions& options) {
  expects(options.trials >= 2, "Monte Carlo needs at least two trials");
  expects(options.coverage > 0.0 && options.coverage < 1.0, "coverage must be within 0 and 1");
  expects(input_count > 0, "Monte Carlo needs at least one input");
  RandomDraws draws(options.seed);
  VectorXd inputs(static_cast<Index>(input_count));
  std::vector<double> outputs;
  outputs.reserve(static_cast<std::size_t>(options.trials));
  int undefined = 0;
  for (int i = 0; i < options.trials; ++i) {
    draw_inputs(draws, inputs);
    const double output = model(inputs);
    undefined += std::isfinite(output) ? 0 : 1;
    outputs.push_back(output);
  }
  if (undefined > 0) {
    return Failure{"model-undefined",
                   std::to_string(undefined) + " of " + std::to_string(options.trials) +
                       " draws of the inputs have no result",
                   "Check the inputs: their uncertainty reaches impossible values."};
  }
  return summarize_draws(std::move(outputs), options.coverage);
}

/// The sources of some values as independent standard variables and how they move each value.
struct SourceTable {
  std::vector<double> degrees_of_freedom;  ///< a source
  std::vector<std::size_t> family;         ///< a source: index of its joint estimate
  std::size_t family_count = 0;
  MatrixXd effect;  ///< a row a value, a column a source
};

SourceTable tabulate(const std::vector<Uncertain>& values) {
  std::map<std::string, double> dof_of_source;
  for (const Uncertain& value : values) {
    for (const Contribution& part : value.parts()) {
      double& dof = dof_of_source.try_emplace(part.source, kInfinity).first->second;
      dof = std::min(dof, part.degrees_of_freedom);
    }
  }
  SourceTable table;
  std::map<std::string, std::size_t> families;
  std::map<std::string, Index> column;
  for (const auto& [source, dof] : dof_of_source) {
    column[source] = static_cast<Index>(table.family.size());
    table.degrees_of_freedom.push_back(dof);
    table.family.push_back(
        families.try_emplace(joint_estimate_of(source), families.size()).first->second);
  }
  table.family_count = families.size();
  table.effect = MatrixXd::Zero(static_cast<Index>(values.size()),
                                static_cast<Index>(table.family.size()));
  for (std::size_t i = 0; i < values.size(); ++i) {
    for (const Contribution& part : values[i].parts()) {
      table.effect(static_cast<Index>(i), column.at(part.source)) = part.signed_u;
    }
  }
  return table;
}

/// One draw of every source; the factors of a joint estimate share their chi squared.
void draw_sources(const SourceTable& table, RandomDraws& draws, VectorXd& z) {
  std::vector<double> stretch(table.family_count, 0.0);
  for (std::size_t k = 0; k < table.family.size(); ++k) {
    const double dof = table.degrees_of_freedom[k];
    double& factor = stretch[table.family[k]];
    if (factor == 0.0) {
      factor = std::isinf(dof) ? 1.0 : std::sqrt(dof / draws.chi_squared(dof));
    }
    z[static_cast<Index>(k)] = factor * draws.normal();
  }
}

}  // namespace

Distribution::Distribution(Shape shape,
                           double centre,
                           double half_width,
                           double degrees_of_freedom)
    : shape_(shape),
      centre_(centre),
      half_width_(half_width),
      degrees_of_freedom_(degrees_of_freedom) {
  expects(std::isfinite(centre) && std::isfinite(half_width) && half_width > 0.0,
          "a distribution needs a finite centre and a finite width above 0");
  expects(degrees_of_freedom > 0.0, "degrees of freedom are not positive");
}

Distribution Distribution::between(Shape shape, double low, double high) {
  return {shape, 0.5 * (low + high), 0.5 * (high - low), kInfinity};
}

Distribution Distribution::normal(double mean, double u) {
  return {Shape::Normal, mean, u, kInfinity};
}

Distribution Distribution::rectangular(double low, double high) {
  return between(Shape::Rectangular, low, high);
}

Distribution Distribution::triangular(double low, double high) {
  return between(Shape::Triangular, low, high);
}

Distribution Distribution::arcsine(double low, double high) {
  return between(Shape::Arcsine, low, high);
}

Distribution Distribution::student(double mean, double u, double degrees_of_freedom) {
  return {Shape::Student, mean, u, degrees_of_freedom};
}

double Distribution::u() const {
  switch (shape_) {
    case Shape::Normal:
      return half_width_;
    case Shape::Rectangular:
      return half_width_ / std::sqrt(3.0);
    case Shape::Triangular:
      return half_width_ / std::sqrt(6.0);
    case Shape::Arcsine:
      return half_width_ / std::sqrt(2.0);
    case Shape::Student:
      if (std::isinf(degrees_of_freedom_)) return half_width_;
      if (degrees_of_freedom_ <= 2.0) return kInfinity;
      return half_width_ * std::sqrt(degrees_of_freedom_ / (degrees_of_freedom_ - 2.0));
  }
  return half_width_;
}

double Distribution::draw(RandomDraws& draws) const {
  switch (shape_) {
    case Shape::Normal:
      return centre_ + half_width_ * draws.normal();
    case Shape::Rectangular:
      return centre_ + half_width_ * (2.0 * draws.uniform() - 1.0);
    case Shape::Triangular: {
      const double first = draws.uniform();
      return centre_ + half_width_ * (first + draws.uniform() - 1.0);
    }
    case Shape::Arcsine:
      return centre_ + half_width_ * std::sin(2.0 * kPi * draws.uniform());
    case Shape::Student:
      return centre_ + half_width_ * draws.student(degrees_of_freedom_);
  }
  return centre_;
}

Result<MonteCarloResult> monte_carlo(const Model& model,
                                     const std::vector<Distribution>& inputs,
                                     const MonteCarloOptions& options) {
  const auto draw_inputs = [&inputs](RandomDraws& draws, VectorXd& x) {
    for (std::size_t i = 0; i < inputs.size(); ++i) {
      x[static_cast<Index>(i)] = inputs[i].draw(draws);
    }
  };
  return run(model, inputs.size(), draw_inputs, options);
}

Result<MonteCarloResult> monte_carlo(const Model& model,
                                     const std::vector<Uncertain>& inputs,
                                     const MonteCarloOptions& options) {
  const SourceTable table = tabulate(inputs);
  VectorXd estimates(static_cast<Index>(inputs.size()));
  for (std::size_t i = 0; i < inputs.size(); ++i) {
    estimates[static_cast<Index>(i)] = inputs[i].value();
  }
  VectorXd z(table.effect.cols());
  const auto draw_inputs = [&](RandomDraws& draws, VectorXd& x) {
    draw_sources(table, draws, z);
    x = estimates + table.effect * z;
  };
  return run(model, inputs.size(), draw_inputs, options);
}

MonteCarloResult summarize_draws(std::vector<double> draws, double coverage) {
  expects(draws.size() >= 2, "a summary needs at least two draws");
  expects(coverage > 0.0 && coverage < 1.0, "coverage must be within 0 and 1");
  std::sort(draws.begin(), draws.end());
  expects(std::isfinite(draws.front()) && std::isfinite(draws.back()), "a draw is not finite");
  const std::size_t n = draws.size();
  MonteCarloResult result;
  result.trials = static_cast<int>(n);
  const Eigen::Map<const VectorXd> all(draws.data(), static_cast<Index>(n));
  result.mean = all.mean();
  result.u = std::sqrt((all.array() - result.mean).square().sum() / static_cast<double>(n - 1));

  const auto wanted = static_cast<std::size_t>(std::lround(coverage * static_cast<double>(n)));
  const std::size_t span = std::clamp<std::size_t>(wanted, 1, n - 1);
  const std::size_t first = (n - span) / 2;
  result.symmetric = {draws[first], draws[std::min(first + span, n - 1)]};
  std::size_t best = 0;
  for (std::size_t r = 0; r + span < n; ++r) {
    if (draws[r + span] - draws[r] < draws[best + span] - draws[best]) best = r;
  }
  result.shortest = {draws[best], draws[best + span]};
  return result;
}

double first_order_gap(const Uncertain& first_order,
                       const MonteCarloResult& drawn,
                       double coverage) {
  const Expanded interval = expanded(first_order, coverage);
  const double gap = std::max(std::abs(interval.low() - drawn.symmetric.low),
                              std::abs(interval.high() - drawn.symmetric.high));
  if (first_order.u() > 0.0) return gap / first_order.u();
  return gap > 0.0 ? kInfinity : 0.0;
}

}  // namespace swingloss
