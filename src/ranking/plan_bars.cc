// SPDX-License-Identifier: Apache-2.0
#include "ranking/plan_bars.h"

#include "core/expects.h"
#include "core/input_error.h"
#include "core/number_text.h"
#include "metrology/distributions.h"
#include "ranking/bars_needed.h"

#include <cmath>

namespace swingloss {
namespace {

void require(bool good, const char* field, double found, const char* wanted) {
  if (good) return;
  const std::string text =
      std::isfinite(found) ? number_text(found) : "a number that is not finite";
  throw InputError(
      {"", std::string("plan option ") + field, text, wanted, "Change the option."});
}

/// Difference, in standard deviations, that groups of n find with the power.
double difference_for_power(int n, double alpha, double power) {
  double low = 0.0;
  double high = 1.0;
  while (two_group_power(n, high, alpha) < power) high *= 2.0;
  for (int halving = 0; halving < 60; ++halving) {
    const double middle = 0.5 * (low + high);
    (two_group_power(n, middle, alpha) < power ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

}  // namespace

void BarsQuestion::validate() const {
  require(cv > 0.0 && std::isfinite(cv), "cv", cv, "a scatter above 0");
  require(alpha > 0.0 && alpha < 0.5, "alpha", alpha, "above 0 and below 0.5");
  require(comparisons >= 1, "comparisons", comparisons, "1 or more");
  require(!powers.empty(), "powers", 0.0, "one power or more");
  for (const double power : powers) {
    require(power > alpha && power < 1.0, "power", power, "above alpha and below 1");
  }
  for (const double difference : differences) {
    require(difference > 0.0 && std::isfinite(difference),
            "difference",
            difference,
            "a relative difference above 0");
  }
}

std::vector<BarsRow> plan_bars(const BarsQuestion& question) {
  question.validate();
  std::vector<BarsRow> rows;
  for (const double difference : question.differences) rows.push_back({difference, {}});
  for (const double power : question.powers) {
    BarsNeeded needed(question.alpha / question.comparisons, power);
    for (BarsRow& row : rows) row.bars.push_back(needed.smallest(row.difference, question.cv));
  }
  return rows;
}

std::vector<PrecisionRow> plan_precision(const BarsQuestion& question, int most) {
  question.validate();
  require(most >= 3 && most <= BarsNeeded::kMost, "most", most, "3 to 1000 bars");
  std::vector<PrecisionRow> rows;
  for (int n = 2; n <= most; ++n) {
    const double t = student_quantile(1.0 - question.alpha / 2.0, n - 1.0);
    const double found =
        difference_for_power(n, question.alpha / question.comparisons, question.powers.front());
    rows.push_back({n, t * question.cv / std::sqrt(n), found * question.cv});
  }
  return rows;
}

std::optional<int> bars_for_half_width(double cv, double half_width, double confidence) {
  expects(cv > 0.0 && half_width > 0.0, "bars for a half-width: range");
  for (int n = 2; n <= BarsNeeded::kMost; ++n) {
    const double t = student_quantile(0.5 + confidence / 2.0, n - 1.0);
    if (t * cv <= half_width * std::sqrt(n)) return n;
  }
  return std::nullopt;
}

double cautious_scatter(double s, int n, double confidence) {
  expects(s >= 0.0 && n >= 2, "cautious scatter: range");
  const double degrees_of_freedom = n - 1.0;
  return s * std::sqrt(degrees_of_freedom /
                       chi_squared_quantile(1.0 - confidence, degrees_of_freedom));
}

}  // namespace swingloss
