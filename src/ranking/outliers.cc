// SPDX-License-Identifier: Apache-2.0
#include "ranking/outliers.h"

#include "core/expects.h"
#include "metrology/distributions.h"
#include "ranking/sample.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace swingloss {

double grubbs_critical(int n, double alpha, bool two_sided) {
  expects(n >= 3 && alpha > 0.0 && alpha < 1.0, "Grubbs' point of fewer than three values");
  const double count = n;
  const double share = alpha / (two_sided ? 2.0 * count : count);
  const double t = student_quantile(1.0 - share, count - 2.0);
  return (count - 1.0) / std::sqrt(count) * std::sqrt(t * t / (count - 2.0 + t * t));
}

std::optional<GrubbsTest> grubbs_test(const std::vector<double>& values, double alpha) {
  if (values.size() < 3) return std::nullopt;
  const Sample sample = summarise(values);
  if (*sample.s == 0.0) return std::nullopt;
  GrubbsTest test;
  for (std::size_t i = 0; i < values.size(); ++i) {
    const double g = std::abs(values[i] - sample.mean) / *sample.s;
    if (g > test.g) {
      test.g = g;
      test.farthest = i;
    }
  }
  test.critical = grubbs_critical(sample.n, alpha);
  test.flagged = test.g > test.critical;
  return test;
}

std::optional<NormalScores> normal_scores(const std::vector<double>& values) {
  if (values.size() < 4 || *summarise(values).s == 0.0) return std::nullopt;
  std::vector<std::size_t> order(values.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return values[a] < values[b];
  });
  const double n = static_cast<double>(values.size());
  const double mean = summarise(values).mean;
  NormalScores scores;
  double score_squares = 0.0;
  double value_squares = 0.0;
  double products = 0.0;
  for (std::size_t i = 0; i < order.size(); ++i) {
    const double rank = static_cast<double>(i) + 1.0;
    const double score = normal_quantile((rank - 0.375) / (n + 0.25));
    const double value = values[order[i]];
    scores.points.push_back({order[i], score, value});
    score_squares += score * score;
    value_squares += (value - mean) * (value - mean);
    products += score * (value - mean);
  }
  scores.correlation = products / std::sqrt(score_squares * value_squares);
  scores.critical = 1.0063 - 0.1288 / std::sqrt(n) - 0.6118 / n + 1.3505 / (n * n);
  scores.flagged = scores.correlation < scores.critical;
  return scores;
}

}  // namespace swingloss
