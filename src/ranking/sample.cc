// SPDX-License-Identifier: Apache-2.0
#include "ranking/sample.h"

#include "core/expects.h"
#include "metrology/distributions.h"

#include <cmath>

namespace swingloss {

double Sample::mean_variance() const {
  expects(s.has_value(), "variance of the mean of fewer than two values");
  return *s * *s / n;
}

Sample summarise(const std::vector<double>& values) {
  expects(!values.empty(), "summary of no values");
  const double count = static_cast<double>(values.size());
  double sum = 0.0;
  for (const double value : values) {
    expects(std::isfinite(value), "summary of a value that is not finite");
    sum += value;
  }
  const double rough = sum / count;
  double residue = 0.0;
  double squares = 0.0;
  for (const double value : values) {
    residue += value - rough;
    squares += (value - rough) * (value - rough);
  }
  Sample sample;
  sample.n = static_cast<int>(values.size());
  sample.mean = rough + residue / count;
  if (sample.n > 1) {
    const double corrected = squares - residue * residue / count;
    sample.s = std::sqrt(std::max(0.0, corrected) / (count - 1.0));
  }
  return sample;
}

Interval t_interval(const Sample& sample, double confidence) {
  if (!sample.s || *sample.s == 0.0) return {};
  const double half = student_quantile(0.5 + confidence / 2.0, sample.n - 1.0) *
                      std::sqrt(sample.mean_variance());
  return {sample.mean - half, sample.mean + half};
}

}  // namespace swingloss
