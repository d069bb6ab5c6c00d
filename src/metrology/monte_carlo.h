// SPDX-License-Identifier: Apache-2.0
/// \file monte_carlo.h
/// Propagation of whole distributions, where first order may not be enough [JCGM101].
#pragma once

#include "core/result.h"
#include "core/uncertain.h"
#include "metrology/random_draws.h"

#include <cstdint>
#include <functional>
#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// What is known of one input, independent of the others [JCGM101 6.4].
class Distribution {
 public:
  /// A best estimate and its standard uncertainty u > 0, nothing else.
  static Distribution normal(double mean, double u);
  /// Anywhere between two limits, low < high.
  static Distribution rectangular(double low, double high);
  /// Sum of two equal rectangular doubts: likelier in the middle.
  static Distribution triangular(double low, double high);
  /// Sinusoidal between two limits: likelier at the ends.
  static Distribution arcsine(double low, double high);
  /// A mean of n readings with u = s / sqrt(n), degrees_of_freedom = n - 1: Student's t, scaled
  /// and shifted. Its standard deviation is larger than u [JCGM101 6.4.9].
  static Distribution student(double mean, double u, double degrees_of_freedom);

  [[nodiscard]] double mean() const { return centre_; }
  /// Standard deviation; infinite for student with degrees_of_freedom <= 2.
  [[nodiscard]] double u() const;
  [[nodiscard]] double draw(RandomDraws& draws) const;

 private:
  enum class Shape { Normal, Rectangular, Triangular, Arcsine, Student };
  Distribution(Shape shape, double centre, double half_width, double degrees_of_freedom);
  static Distribution between(Shape shape, double low, double high);

  Shape shape_;
  double centre_;
  double half_width_;  ///< u for Normal and Student
  double degrees_of_freedom_;
};

struct MonteCarloOptions {
  /// 2e5 give interval ends to about 1 % of u at 95 % coverage; [JCGM101 7.2.1] asks for 1e4
  /// times 1 / (1 - coverage), which this is.
  int trials = 200000;
  std::uint64_t seed = 1;
  double coverage = 0.95;
};

/// Two ends of an interval that holds the stated share of the draws.
struct CoverageInterval {
  double low = 0.0;
  double high = 0.0;
};

/// The distribution of the output in a few numbers [JCGM101 7.6, 7.7].
struct MonteCarloResult {
  double mean = 0.0;
  double u = 0.0;              ///< standard deviation of the draws
  CoverageInterval symmetric;  ///< as many draws below as above
  CoverageInterval shortest;   ///< where the draws lie densest; the better for a skew output
  int trials = 0;
};

/// One output of some inputs.
using Model = std::function<double(const Eigen::VectorXd&)>;

/// Draws the inputs `trials` times, computes the output each time, and summarizes.
/// \param inputs  in the order in which `model` takes them; independent
/// \return the summary, or a Failure `model-undefined` when some draw has no finite output: the
///         inputs' doubt reaches beyond where the model means anything
/// \throws std::logic_error  options out of range, no inputs
[[nodiscard]] Result<MonteCarloResult> monte_carlo(const Model& model,
                                                   const std::vector<Distribution>& inputs,
                                                   const MonteCarloOptions& options = {});

/// The same from uncertain values, correlated through their common sources: each source is
/// drawn once a trial and moves all inputs that have a part in it. Sources are normal; with
/// finite degrees of freedom Student's t (one chi squared for all factors of a joint estimate).
[[nodiscard]] Result<MonteCarloResult> monte_carlo(const Model& model,
                                                   const std::vector<Uncertain>& inputs,
                                                   const MonteCarloOptions& options = {});

/// The summary of draws made elsewhere; at least two, all finite.
/// \param coverage  0 < coverage < 1
[[nodiscard]] MonteCarloResult summarize_draws(std::vector<double> draws, double coverage);

/// How far the ends of the first-order interval (coverage.h) lie from the symmetric interval of
/// the draws, the larger of the two, in first-order standard uncertainties [JCGM101 8.1].
/// Infinite when the first-order uncertainty is 0 and the draws' is not.
[[nodiscard]] double first_order_gap(const Uncertain& first_order,
                                     const MonteCarloResult& drawn,
                                     double coverage);

}  // namespace swingloss
