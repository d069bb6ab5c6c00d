// SPDX-License-Identifier: Apache-2.0
#include "swing/residual_noise.h"

#include "support/test.h"

#include <cmath>
#include <random>

#include <Eigen/Dense>

using namespace swingloss;
using namespace swingloss::test;

namespace {

constexpr int kSeeds = 200;

Eigen::VectorXd memory_noise(Eigen::Index n, double rho, std::mt19937_64& random) {
  std::normal_distribution<double> normal;
  Eigen::VectorXd e(n);
  e[0] = normal(random);
  for (Eigen::Index i = 1; i < n; ++i) {
    e[i] = rho * e[i - 1] + std::sqrt(1.0 - rho * rho) * normal(random);
  }
  return e;
}

}  // namespace

TEST_CASE("noise_of tells jitter from scatter", "[swing][synthetic]") {
  std::mt19937_64 random(3);
  std::normal_distribution<double> normal;
  const Eigen::Index n = 400;
  ResidualSet set;
  set.u_rad = Eigen::VectorXd::Constant(n, 1e-3);
  set.omega_rad_per_s = Eigen::VectorXd::LinSpaced(n, 0.0, 8.0);
  set.residual_rad.resize(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    set.residual_rad[i] =
        1e-3 * normal(random) + 5e-4 * set.omega_rad_per_s[i] * normal(random);
  }
  const NoiseModel both = noise_of(set);
  // A scale from n samples is known to 1/sqrt(2 n) = 3.5 %; here two share them. Four of these.
  CHECK_THAT(both.jitter_s, to_truncation(5e-4, 0.2 * 5e-4));
  CHECK_THAT(both.scale, to_truncation(1.0, 0.4));
  for (Eigen::Index i = 0; i < n; ++i) set.residual_rad[i] = 2e-3 * normal(random);
  const NoiseModel plain = noise_of(set);
  CHECK(plain.jitter_s == 0.0);
  CHECK_THAT(plain.scale, to_truncation(2.0, 4.0 * 2.0 * 0.035));
}

TEST_CASE("memory_of finds the memory that a fit hides", "[swing][synthetic]") {
  // Eighty samples, a polynomial of eight terms taken out: the raw lag-1 correlation of what is
  // left is far below the true 0.7.
  const Eigen::Index n = 80;
  Eigen::MatrixXd jacobian(n, 8);
  for (Eigen::Index i = 0; i < n; ++i) {
    const double x = 2.0 * static_cast<double>(i) / static_cast<double>(n - 1) - 1.0;
    for (int k = 0; k < 8; ++k) jacobian(i, k) = std::cos(k * std::acos(x));
  }
  const std::vector<bool> contiguous(static_cast<std::size_t>(n - 1), true);
  const Eigen::MatrixXd q = Eigen::HouseholderQR<Eigen::MatrixXd>(jacobian).householderQ() *
                            Eigen::MatrixXd::Identity(n, 8);
  std::mt19937_64 random(11);
  double sum = 0.0;
  double raw = 0.0;
  int false_alarms = 0;
  for (int seed = 0; seed < kSeeds; ++seed) {
    const Eigen::VectorXd e = memory_noise(n, 0.7, random);
    const Eigen::VectorXd r = e - q * (q.transpose() * e);
    sum += memory_of(r, q, contiguous).rho;
    raw += r.head(n - 1).dot(r.tail(n - 1)) / r.squaredNorm();
    const Eigen::VectorXd w = memory_noise(n, 0.0, random);
    const Eigen::VectorXd s = w - q * (q.transpose() * w);
    false_alarms += memory_of(s, q, contiguous).rho > 0.0 ? 1 : 0;
  }
  CHECK(raw / kSeeds < 0.6);
  // One estimate scatters by about 0.1, the mean of 200 by 0.007; a ratio of means is biased by
  // less than its variance, 0.01. Four deviations and the bias.
  CHECK_THAT(sum / kSeeds, to_truncation(0.7, 0.04));
  // The level of the test is 5 %: 10 of 200, with a deviation of 3.
  CHECK_THAT(false_alarms, to_truncation(10.0, 12.0));
}

TEST_CASE("correlated_rows multiplies by the correlation matrix", "[swing]") {
  const double rho = 0.6;
  const std::vector<bool> contiguous = {true, true, false, true};
  Eigen::MatrixXd r = Eigen::MatrixXd::Identity(5, 5);
  const auto set = [&](int i, int j, double value) { r(i, j) = r(j, i) = value; };
  set(0, 1, rho);
  set(1, 2, rho);
  set(0, 2, rho * rho);
  set(3, 4, rho);  // samples 2 and 3 are not neighbours
  const Eigen::MatrixXd x = Eigen::MatrixXd::Random(5, 3);
  // Products and sums of a few terms of size 1.
  CHECK_THAT((correlated_rows(x, rho, contiguous) - r * x).cwiseAbs().maxCoeff(),
             to_rounding(0.0, 16));
}
