// SPDX-License-Identifier: Apache-2.0
#include "metrology/coverage.h"

#include "core/expects.h"
#include "metrology/distributions.h"

namespace swingloss {

double coverage_factor(double coverage, double degrees_of_freedom) {
  expects(coverage > 0.0 && coverage < 1.0, "coverage must be within 0 and 1");
  return student_quantile(0.5 + 0.5 * coverage, degrees_of_freedom);
}

Expanded expanded(const Uncertain& x, double coverage) {
  const double dof = x.degrees_of_freedom();
  const double factor = coverage_factor(coverage, dof);
  return {x.value(), factor * x.u(), factor, coverage, dof};
}

}  // namespace swingloss
