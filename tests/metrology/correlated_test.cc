// SPDX-License-Identifier: Apache-2.0
#include "metrology/correlated.h"

#include "support/test.h"

#include <cmath>

using namespace swingloss;

namespace {

Eigen::Matrix3d example_covariance() {
  const Eigen::Vector3d u(0.3, 2e-5, 40.0);
  Eigen::Matrix3d correlation;
  correlation << 1.0, 0.6, -0.5,  //
      0.6, 1.0, 0.2,              //
      -0.5, 0.2, 1.0;
  return u.asDiagonal() * correlation * u.asDiagonal();
}

}  // namespace

TEST_CASE("correlated gives back the covariance it was given", "[metrology]") {
  const Eigen::Matrix3d covariance = example_covariance();
  const auto values =
      correlated(Eigen::Vector3d(1.0, 2.0, 3.0), covariance, "fit", SourceKind::Shared, 7.0);
  const Eigen::MatrixXd found = covariance_of(values);
  for (Eigen::Index i = 0; i < 3; ++i) {
    CHECK(values[static_cast<std::size_t>(i)].value() == static_cast<double>(i + 1));
    for (Eigen::Index j = 0; j < 3; ++j) {
      CAPTURE(i, j);
      // A handful of products and sums: a few dozen roundings of the larger terms.
      const double scale = std::sqrt(covariance(i, i) * covariance(j, j));
      CHECK_THAT(found(i, j) / scale, test::to_rounding(covariance(i, j) / scale, 64));
    }
  }
}

TEST_CASE("a function of correlated values has the uncertainty of the matrix product",
          "[metrology]") {
  // Var(a x) = a C a', the other way to the same number; a few dozen roundings.
  const Eigen::Matrix3d covariance = example_covariance();
  const auto v = correlated(Eigen::Vector3d(1.0, 2.0, 3.0), covariance, "fit", SourceKind::Own);
  const Uncertain sum = 2.0 * v[0] - 3e4 * v[1] + 0.01 * v[2];
  const Eigen::RowVector3d a(2.0, -3e4, 0.01);
  CHECK_THAT(sum.u(),
             test::to_rounding(std::sqrt((a * covariance * a.transpose()).value()), 64));
}

TEST_CASE("correlated values of one estimate keep its degrees of freedom", "[metrology]") {
  // One estimate of variance with 7 degrees of freedom, whatever the mixture: [Willink2007].
  // Squares and quotients: a dozen roundings.
  const auto v = correlated(
      Eigen::Vector3d(1.0, 2.0, 3.0), example_covariance(), "fit", SourceKind::Own, 7.0);
  CHECK_THAT((v[0] + 1e4 * v[1] - 0.02 * v[2]).degrees_of_freedom(),
             test::to_rounding(7.0, 32));
  const Uncertain renamed = v[1].with_sources_of(SourceKind::Own, " B7");
  CHECK_THAT(renamed.degrees_of_freedom(), test::to_rounding(7.0, 32));
  // Two bars' estimates of equal size are two: 14 in the mean of both.
  const Uncertain two_bars = v[1].with_sources_of(SourceKind::Own, " B7") +
                             v[1].with_sources_of(SourceKind::Own, " B8");
  CHECK_THAT(two_bars.degrees_of_freedom(), test::to_rounding(14.0, 32));
}

TEST_CASE("correlated takes values that are known exactly or hang together fully",
          "[metrology]") {
  Eigen::Matrix3d covariance = Eigen::Matrix3d::Zero();
  covariance(0, 0) = 4.0;
  covariance(0, 1) = covariance(1, 0) = -2.0;
  covariance(1, 1) = 1.0;
  const auto v = correlated(Eigen::Vector3d(1.0, 1.0, 5.0), covariance, "fit", SourceKind::Own);
  CHECK(v[2].u() == 0.0);
  CHECK((v[0] + 2.0 * v[1]).u() == 0.0);
  CHECK(v[0].u() == 2.0);
  CHECK(v[1].u() == 1.0);
}

TEST_CASE("correlated takes the covariance of an ill-conditioned fit", "[metrology]") {
  // Three values that are nearly one, their correlations spoilt by 1e-8, so that the smallest
  // eigenvalue is negative. Clipping it moves a correlation by no more than twice its size.
  const double spoilt = 1e-8;
  Eigen::Matrix3d covariance = Eigen::Matrix3d::Ones();
  covariance(0, 1) = covariance(1, 0) = 1.0 - spoilt;
  covariance(0, 2) = covariance(2, 0) = 1.0;
  covariance(1, 2) = covariance(2, 1) = 1.0 + spoilt;
  const Eigen::Vector3d u(3.0, 2e-4, 50.0);
  const Eigen::MatrixXd scaled = u.asDiagonal() * covariance * u.asDiagonal();
  const auto v = correlated(Eigen::Vector3d::Zero(), scaled, "fit", SourceKind::Own);
  const Eigen::MatrixXd found = covariance_of(v);
  for (Eigen::Index i = 0; i < 3; ++i) {
    // The length of a row of three: a few roundings.
    CHECK_THAT(v[static_cast<std::size_t>(i)].u(), test::to_rounding(u[i], 16));
    for (Eigen::Index j = 0; j < i; ++j) {
      CHECK_THAT(found(i, j) / (u[i] * u[j]),
                 test::to_truncation(covariance(i, j), 4.0 * spoilt));
    }
  }
}

TEST_CASE("correlated refuses what is no covariance", "[metrology]") {
  const Eigen::Vector2d values(1.0, 2.0);
  Eigen::Matrix2d indefinite;
  indefinite << 1.0, 1.1, 1.1, 1.0;
  Eigen::Matrix2d lopsided;
  lopsided << 1.0, 0.5, 0.2, 1.0;
  Eigen::Matrix2d negative;
  negative << 1.0, 0.0, 0.0, -1.0;
  const Eigen::Matrix2d fine = Eigen::Matrix2d::Identity();
  CHECK_THROWS_AS(correlated(values, indefinite, "fit", SourceKind::Own), std::logic_error);
  CHECK_THROWS_AS(correlated(values, lopsided, "fit", SourceKind::Own), std::logic_error);
  CHECK_THROWS_AS(correlated(values, negative, "fit", SourceKind::Own), std::logic_error);
  CHECK_THROWS_AS(correlated(values, Eigen::Matrix3d::Identity(), "fit", SourceKind::Own),
                  std::logic_error);
  CHECK_THROWS_AS(correlated(values, fine, "fit[1]", SourceKind::Own), std::logic_error);
}
