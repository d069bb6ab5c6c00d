// SPDX-License-Identifier: Apache-2.0
/// \file truth.h
/// The four tolerances that a test may use. A literal tolerance anywhere else in tests/ is
/// refused by tests/structure: each kind below forces the writer to say why it is that wide.
#pragma once

#include <cmath>
#include <limits>

#include <catch2/catch.hpp>

namespace swingloss::test {

/// Same mathematics in another order: `ulps` units in the last place of `truth`.
/// The caller explains the count. For truth == 0 the unit is that of 1.
inline auto to_rounding(double truth, int ulps) {
  const double scale = truth == 0.0 ? 1.0 : std::abs(truth);
  return Catch::WithinAbs(truth, ulps * std::numeric_limits<double>::epsilon() * scale);
}

/// A published value with `digits` significant digits: half a unit of the last printed one,
/// and a hair more so that a value that is exactly between two prints passes either way.
inline auto to_printed_digits(double truth, int digits) {
  const double exponent = truth == 0.0 ? 0.0 : std::floor(std::log10(std::abs(truth)));
  return Catch::WithinAbs(truth, 0.5000001 * std::pow(10.0, exponent - digits + 1));
}

/// A published value printed to `decimals` decimal places: half a unit of the last one.
inline auto to_printed_decimals(double truth, int decimals) {
  return Catch::WithinAbs(truth, 0.5000001 * std::pow(10.0, -decimals));
}

/// A series cut off, a step, a finite difference, a sampling error: |error| <= `bound`, whose
/// formula or origin the caller writes beside it.
inline auto to_truncation(double truth, double bound) { return Catch::WithinAbs(truth, bound); }

/// An estimate from noisy data with a fixed seed: its own stated standard uncertainty `u`,
/// times `k`. Tests value and u together; pair it with a two-sided test of u.
inline auto to_uncertainty(double truth, double u, double k = 4.0) {
  return Catch::WithinAbs(truth, k * u);
}

}  // namespace swingloss::test
