// SPDX-License-Identifier: Apache-2.0
#include "ranking/approach.h"

#include "core/angle.h"
#include "core/expects.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Dense>

namespace swingloss {
namespace {

/// Integral of erfc from x to infinity.
double integrated_erfc(double x) {
  return std::exp(-x * x) / std::sqrt(kPi) - x * std::erfc(x);
}

/// Two series for the same sum: the short-time one needs few terms while x is small, the other
/// when it is large.
double plate_share(double x) {
  if (x < 0.5) {
    const double y = x / (kPi * kPi);  // D t / d^2
    if (y == 0.0) return 0.0;
    double sum = 1.0 / std::sqrt(kPi);
    for (int n = 1; n <= 8; ++n) {
      sum += (n % 2 == 1 ? -2.0 : 2.0) * integrated_erfc(n / (2.0 * std::sqrt(y)));
    }
    return 4.0 * std::sqrt(y) * sum;
  }
  double sum = 0.0;
  for (int k = 1; k <= 19; k += 2) sum += std::exp(-k * k * x) / (k * k);
  return 1.0 - 8.0 / (kPi * kPi) * sum;
}

/// Best initial and final value for one time constant.
struct Linear {
  Eigen::VectorXd parameters;  ///< (initial, change), or (change) where the initial is known
  double sum_of_squares = 0.0;
};

class Problem {
 public:
  Problem(const std::vector<Reading>& readings, ApproachLaw law, const ApproachOptions& options)
      : readings_(readings), law_(law), options_(options) {}

  [[nodiscard]] Eigen::VectorXd shares(double log_tau) const {
    Eigen::VectorXd share(static_cast<Eigen::Index>(readings_.size()));
    for (std::size_t i = 0; i < readings_.size(); ++i) {
      share(static_cast<Eigen::Index>(i)) =
          approach_share(law_, readings_[i].t_s / std::exp(log_tau));
    }
    return share;
  }

  [[nodiscard]] Linear solve(double log_tau) const {
    const Eigen::VectorXd share = shares(log_tau);
    Eigen::VectorXd value(share.size());
    for (std::size_t i = 0; i < readings_.size(); ++i) {
      value(static_cast<Eigen::Index>(i)) = readings_[i].value - options_.initial.value_or(0.0);
    }
    Eigen::MatrixXd design(share.size(), options_.initial ? 1 : 2);
    if (!options_.initial) design.col(0).setOnes();
    design.col(design.cols() - 1) = share;
    Linear linear;
    linear.parameters = design.colPivHouseholderQr().solve(value);
    linear.sum_of_squares = (value - design * linear.parameters).squaredNorm();
    return linear;
  }

  [[nodiscard]] double sum_of_squares(double log_tau) const {
    return solve(log_tau).sum_of_squares;
  }

  /// Derivatives of the readings by (initial, final, ln tau), initial left out where known.
  [[nodiscard]] Eigen::MatrixXd slopes(double log_tau, double change) const {
    const double step = 1e-4;
    const Eigen::VectorXd share = shares(log_tau);
    const Eigen::VectorXd by_log_tau =
        change * (shares(log_tau + step) - shares(log_tau - step)) / (2.0 * step);
    const Eigen::Index known = options_.initial ? 1 : 0;
    Eigen::MatrixXd slopes(share.size(), 3 - known);
    if (known == 0) slopes.col(0) = (1.0 - share.array()).matrix();
    slopes.col(1 - known) = share;
    slopes.col(2 - known) = by_log_tau;
    return slopes;
  }

 private:
  const std::vector<Reading>& readings_;
  ApproachLaw law_;
  const ApproachOptions& options_;
};

/// Lowest point of a valley between two ends, to rounding of the place.
template <typename Function>
double golden_place(Function valley, double low, double high) {
  constexpr double kGolden = 0.61803398874989485;
  double a = high - kGolden * (high - low);
  double b = low + kGolden * (high - low);
  double at_a = valley(a);
  double at_b = valley(b);
  while (high - low > 1e-9) {
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
  return 0.5 * (low + high);
}

Failure too_few(int needed) {
  return {"too-few-readings",
          "fewer than " + std::to_string(needed) + " readings at different times",
          "Weigh again on more days."};
}

Failure not_bending() {
  return {"not-yet-bending",
          "the readings still climb as at the start; where they will end cannot be told",
          "Go on weighing."};
}

/// ln of the best time constant, from a hundredth of the record to a hundred times it.
/// \return nothing when it is so long that the record does not bend
std::optional<double> best_log_time_constant(const Problem& problem, double last_s) {
  constexpr int kGrid = 200;
  const double start = std::log(last_s / 100.0);
  const double step = std::log(1e4) / kGrid;
  int best = 0;
  double smallest = problem.sum_of_squares(start);
  for (int i = 1; i <= kGrid; ++i) {
    const double squares = problem.sum_of_squares(start + i * step);
    if (squares < smallest) {
      smallest = squares;
      best = i;
    }
  }
  const double centre = start + best * step;
  // With three times the record for a time constant the curve bends too little to tell its end.
  if (centre > std::log(3.0 * last_s)) return std::nullopt;
  return golden_place(
      [&](double at) { return problem.sum_of_squares(at); }, centre - step, centre + step);
}

/// Standard uncertainties from the residuals.
void add_uncertainties(const Problem& problem, bool initial_known, ApproachFit& fit) {
  const Eigen::MatrixXd slopes =
      problem.slopes(std::log(fit.time_constant_s), fit.final - fit.initial);
  const Eigen::MatrixXd inverse = (slopes.transpose() * slopes).inverse();
  const Eigen::Index last = slopes.cols() - 1;
  fit.u_log_time_constant = fit.residual_s * std::sqrt(inverse(last, last));
  fit.u_final = fit.residual_s * std::sqrt(inverse(last - 1, last - 1));
  if (!initial_known) fit.u_initial = fit.residual_s * std::sqrt(inverse(0, 0));
}

}  // namespace

const char* name_of(ApproachLaw law) {
  return law == ApproachLaw::Plate ? "plate diffusion" : "exponential";
}

double approach_share(ApproachLaw law, double x) {
  expects(x >= 0.0, "a share before time zero");
  return law == ApproachLaw::Plate ? plate_share(x) : -std::expm1(-x);
}

double approach_time(ApproachLaw law, double share) {
  expects(share >= 0.0 && share < 1.0, "a share outside 0 to 1");
  if (law == ApproachLaw::Exponential) return -std::log1p(-share);
  double low = 0.0;
  double high = 1.0;
  while (plate_share(high) < share) high *= 2.0;
  for (int halving = 0; halving < 80; ++halving) {
    const double middle = 0.5 * (low + high);
    (plate_share(middle) < share ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

double ApproachFit::value_at(double t_s) const {
  return initial +
         (final - initial) * approach_share(law, std::max(0.0, t_s) / time_constant_s);
}

Result<ApproachFit> fit_approach(const std::vector<Reading>& readings,
                                 ApproachLaw law,
                                 const ApproachOptions& options) {
  const int parameters = options.initial ? 2 : 3;
  const int n = static_cast<int>(readings.size());
  if (n <= parameters) return too_few(parameters + 1);
  const auto [least, most] = std::minmax_element(
      readings.begin(), readings.end(), [](const Reading& a, const Reading& b) {
        return a.value < b.value;
      });
  if (least->value == most->value) {
    return Failure{"no-change", "all readings are the same", "Nothing to fit: it is settled."};
  }
  const double last_s = readings.back().t_s;
  expects(last_s > 0.0, "readings of an approach end at time zero");

  const Problem problem(readings, law, options);
  const std::optional<double> log_tau = best_log_time_constant(problem, last_s);
  if (!log_tau) return not_bending();
  const Linear linear = problem.solve(*log_tau);
  ApproachFit fit;
  fit.law = law;
  fit.initial = options.initial ? *options.initial : linear.parameters(0);
  fit.final = fit.initial + linear.parameters(linear.parameters.size() - 1);
  fit.time_constant_s = std::exp(*log_tau);
  fit.sum_of_squares = linear.sum_of_squares;
  fit.degrees_of_freedom = n - parameters;
  fit.residual_s = std::sqrt(linear.sum_of_squares / fit.degrees_of_freedom);
  add_uncertainties(problem, options.initial.has_value(), fit);
  return fit;
}

}  // namespace swingloss
