// SPDX-License-Identifier: Apache-2.0
#include "ranking/censored.h"

#include "metrology/random_draws.h"
#include "reference_data.h"
#include "support/test.h"

#include <algorithm>
#include <cmath>

using namespace swingloss;

namespace {

std::vector<CensoredValue> plain(const std::vector<double>& values) {
  std::vector<CensoredValue> all;
  all.reserve(values.size());
  for (const double value : values) all.push_back({value, Limit::None});
  return all;
}

/// The same values seen from the other side: bounds from below become bounds from above.
std::vector<CensoredValue> mirrored(std::vector<CensoredValue> values) {
  for (CensoredValue& v : values) {
    v.value = -v.value;
    if (v.limit != Limit::None) v.limit = v.limit == Limit::Above ? Limit::Below : Limit::Above;
  }
  return values;
}

/// A sample of a normal world, cut at a limit that `fraction` of the values pass.
std::vector<CensoredValue> cut_sample(RandomDraws& draws, int n, double limit) {
  std::vector<CensoredValue> values;
  for (int i = 0; i < n; ++i) {
    const double value = draws.normal();
    values.push_back(value > limit ? CensoredValue{limit, Limit::Above}
                                   : CensoredValue{value, Limit::None});
  }
  return values;
}

}  // namespace

TEST_CASE("fit_censored agrees with R's survreg", "[truth]") {
  // R 4.2.2, survival 3.5-3, survreg(Surv(time, event) ~ 1, dist = ...): coefficient, scale,
  // ln likelihood, standard errors of coefficient and ln(scale), their covariance. survreg
  // stops at a relative change of 1e-9, so that eight digits of the estimates are its own and
  // six of what is worked out at the estimates.
  struct Row {
    const char* name;
    std::vector<CensoredValue> values;
    Scatter scatter;
    double location, scale, log_likelihood, u_location, u_log_scale, covariance;
  };
  for (const Row& row : {Row{"ovarian_gaussian",
                             test::ovarian(),
                             Scatter::Normal,
                             863.120696216792,
                             568.773225163505,
                             -102.382345476813,
                             143.085832868089,
                             0.228329103854771,
                             15.5657247496497},
                         Row{"ovarian_lognormal",
                             test::ovarian(),
                             Scatter::LogNormal,
                             6.77210985859106,
                             1.26577092761967,
                             -97.1217420426555,
                             0.319506880713057,
                             0.227607138801443,
                             0.0351482137372796},
                         Row{"lung_gaussian",
                             test::lung(),
                             Scatter::Normal,
                             364.378688932695,
                             246.505102255585,
                             -1185.88898147386,
                             17.6026940548359,
                             0.0557597935990582,
                             0.176664508890746},
                         Row{"lung_lognormal",
                             test::lung(),
                             Scatter::LogNormal,
                             5.66330496220637,
                             1.09763926976839,
                             -1169.2690553056,
                             0.077995939333594,
                             0.0563619851503519,
                             0.000830068894800285},
                         Row{"gupta_lognormal",
                             test::gupta(),
                             Scatter::LogNormal,
                             4.01197211695571,
                             0.182899027795545,
                             -28.1323933861976,
                             0.0618385704139897,
                             0.28454047427354,
                             0.00377492918089298},
                         Row{"genfan_lognormal",
                             test::generator_fans(),
                             Scatter::LogNormal,
                             10.1432390945751,
                             1.67959261431021,
                             -134.549648222042,
                             0.521095762056608,
                             0.231756839807656,
                             0.100000011127934},
                         Row{"genfan_gaussian",
                             test::generator_fans(),
                             Scatter::Normal,
                             11935.905158191,
                             6253.7827257634,
                             -139.977370304581,
                             1897.17528957209,
                             0.22594325923709,
                             349.708523157938}}) {
    CAPTURE(row.name);
    const auto result = fit_censored(row.values, row.scatter);
    REQUIRE(result.ok());
    const CensoredFit& fit = result.value();
    CHECK_THAT(fit.location, test::to_printed_digits(row.location, 8));
    CHECK_THAT(fit.scale, test::to_printed_digits(row.scale, 8));
    CHECK_THAT(fit.log_likelihood, test::to_printed_digits(row.log_likelihood, 12));
    CHECK_THAT(fit.u_location, test::to_printed_digits(row.u_location, 6));
    CHECK_THAT(fit.u_log_scale, test::to_printed_digits(row.u_log_scale, 6));
    CHECK_THAT(fit.covariance, test::to_printed_digits(row.covariance, 6));
  }
}

TEST_CASE("fit_common_scale agrees with survreg with a factor", "[truth]") {
  // R 4.2.2, survreg(Surv(futime, fustat) ~ rx, ovarian): intercept b0, slope b1 per treatment,
  // so that treatment k has b0 + k b1.
  const std::vector<CensoredValue> all = test::ovarian();
  const std::vector<int> treatment = test::ovarian_treatment();
  std::vector<std::vector<CensoredValue>> groups(2);
  for (std::size_t i = 0; i < all.size(); ++i) {
    groups[static_cast<std::size_t>(treatment[i]) - 1].push_back(all[i]);
  }
  const auto normal = fit_common_scale(groups, Scatter::Normal);
  REQUIRE(normal.ok());
  CHECK_THAT(normal.value().locations[0],
             test::to_printed_digits(415.075185272827 + 294.826268004779, 8));
  CHECK_THAT(normal.value().locations[1],
             test::to_printed_digits(415.075185272827 + 2 * 294.826268004779, 8));
  CHECK_THAT(normal.value().scale, test::to_printed_digits(542.011691858773, 8));
  CHECK_THAT(normal.value().log_likelihood, test::to_printed_digits(-101.654985098459, 12));
  const auto log_normal = fit_common_scale(groups, Scatter::LogNormal);
  REQUIRE(log_normal.ok());
  CHECK_THAT(log_normal.value().scale, test::to_printed_digits(1.17362469745892, 8));
  CHECK_THAT(log_normal.value().log_likelihood, test::to_printed_digits(-96.0408212105338, 12));
}

TEST_CASE("profile_interval agrees with R on Gupta's mice", "[truth]") {
  // Printed by Gupta 1952: mean 1.742, sd 0.079 of log10(days) (from memory).
  const auto fit = fit_censored(test::gupta(), Scatter::LogNormal);
  REQUIRE(fit.ok());
  const double ten = std::log(10.0);
  CHECK_THAT(fit.value().location / ten, test::to_printed_digits(1.742, 4));
  CHECK_THAT(fit.value().scale / ten, test::to_printed_decimals(0.079, 3));
  const Interval interval = profile_interval(test::gupta(), fit.value(), textbook_drop(0.95));
  // R's profile ends, found with uniroot's default tolerance of 1.22e-4, and the same ends by
  // root finding on the same likelihood in 30 digits (mpmath 1.3).
  CHECK_THAT(*interval.low / ten, test::to_truncation(1.68788639721, 1.22e-4));
  CHECK_THAT(*interval.high / ten, test::to_truncation(1.81233946927, 1.22e-4));
  CHECK_THAT(*interval.low / ten, test::to_printed_digits(1.68790300823684, 11));
  CHECK_THAT(*interval.high / ten, test::to_printed_digits(1.81233954703305, 11));
}

TEST_CASE("left-censored values are right-censored ones seen from the other side") {
  const auto right = fit_censored(test::ovarian(), Scatter::Normal);
  const auto left = fit_censored(mirrored(test::ovarian()), Scatter::Normal);
  REQUIRE(left.ok());
  // Newton stops when ln L can rise by 1e-20; its location is then good to the root of that
  // times the standard error, and the sums run in another order.
  const double bound = 1e-9 * right.value().u_location;
  CHECK_THAT(left.value().location, test::to_truncation(-right.value().location, bound));
  CHECK_THAT(left.value().scale, test::to_truncation(right.value().scale, bound));
  CHECK_THAT(left.value().covariance, test::to_truncation(-right.value().covariance, bound));
}

TEST_CASE("fit_censored is stationary in location and scale with limits on both sides") {
  std::vector<CensoredValue> values = plain({3.0, 4.0, 4.5, 5.2});
  values.push_back({5.0, Limit::Above});
  values.push_back({3.5, Limit::Below});
  const auto result = fit_censored(values, Scatter::Normal);
  REQUIRE(result.ok());
  const CensoredFit& fit = result.value();
  const double top = profile_log_likelihood(values, Scatter::Normal, fit.location);
  // Both are the maximum of one function found two ways: rounding of a sum near -7.
  CHECK_THAT(top, test::to_rounding(fit.log_likelihood, 16));
  // At the top the profile bends by -1/u^2: second difference, h^2/12 of a fourth derivative
  // (of order 1/u^4) and the rounding of the three values.
  const double h = 1e-3;
  const double bend =
      (profile_log_likelihood(values, Scatter::Normal, fit.location + h) +
       profile_log_likelihood(values, Scatter::Normal, fit.location - h) - 2.0 * top) /
      (h * h);
  const double wanted = -1.0 / (fit.u_location * fit.u_location);
  CHECK_THAT(bend,
             test::to_truncation(wanted, wanted * wanted * h * h + 8.0 * 2.3e-16 / (h * h)));
}

TEST_CASE("without censoring the fit is mean and root mean square, the interval Student's") {
  const std::vector<CensoredValue> values = plain({2.1, 2.3, 2.0, 2.25, 2.2});
  const auto result = fit_censored(values, Scatter::Normal);
  REQUIRE(result.ok());
  const CensoredFit& fit = result.value();
  // Closed forms: mean 2.17, sum of squares 0.058; Newton's rest is far below 1e-10.
  CHECK_THAT(fit.location, test::to_truncation(2.17, 1e-10));
  CHECK_THAT(fit.scale, test::to_truncation(std::sqrt(0.058 / 5.0), 1e-10));
  const Interval interval = profile_interval(values, fit, small_sample_drop(5, 0.95));
  // [JCGM100 Table G.2]: t = 2.776445105 for 4 degrees of freedom.
  const double half = 2.776445105 * std::sqrt(0.058 / 4.0 / 5.0);
  CHECK_THAT(*interval.low, test::to_truncation(2.17 - half, 1e-9));
  CHECK_THAT(*interval.high, test::to_truncation(2.17 + half, 1e-9));
}

TEST_CASE("fit_censored does not depend on unit or place of the values") {
  const auto grams = fit_censored(test::ovarian(), Scatter::Normal);
  std::vector<CensoredValue> moved = test::ovarian();
  for (CensoredValue& v : moved) v.value = 1e6 + 1e-3 * v.value;
  const auto shifted = fit_censored(moved, Scatter::Normal);
  REQUIRE(shifted.ok());
  // Values near 1e6 are stored to 1.2e-10; their spread is 0.5.
  CHECK_THAT(shifted.value().location,
             test::to_truncation(1e6 + 1e-3 * grams.value().location, 1e-9));
  CHECK_THAT(shifted.value().scale, test::to_truncation(1e-3 * grams.value().scale, 1e-9));
}

TEST_CASE("fit_censored refuses what fixes no scatter") {
  const auto all_held =
      fit_censored({{5.0, Limit::Above}, {5.0, Limit::Above}}, Scatter::Normal);
  REQUIRE_FALSE(all_held.ok());
  CHECK(all_held.failure().code == "no-two-values");
  CHECK_FALSE(fit_censored({{5.0, Limit::None}, {6.0, Limit::Above}}, Scatter::Normal).ok());
  CHECK_FALSE(fit_censored(plain({5.0, 5.0}), Scatter::Normal).ok());
  CHECK_FALSE(fit_censored({}, Scatter::Normal).ok());
  const auto zero = fit_censored(plain({0.0, 1.0, 2.0}), Scatter::LogNormal);
  REQUIRE_FALSE(zero.ok());
  CHECK(zero.failure().code == "not-positive");
}

TEST_CASE("the profile of bounds alone is that of a coin") {
  // Every bar above 5: a mean above 5 explains all with no scatter, one below 5 needs endless
  // scatter and then gives each bar an even chance.
  const std::vector<CensoredValue> values(4, {5.0, Limit::Above});
  CHECK(profile_log_likelihood(values, Scatter::Normal, 6.0) == 0.0);
  // Scales are tried up to 2^40: what is left of the distance there is below 1e-11.
  CHECK_THAT(profile_log_likelihood(values, Scatter::Normal, 4.0),
             test::to_truncation(4.0 * std::log(0.5), 1e-11));
}

TEST_CASE("small-sample profile intervals cover the mean in 93 to 97 of 100 worlds") {
  // Five bars, the limit where three in ten hold; 2000 worlds, deviation 0.005. The textbook
  // drop covers less, which is why it is not used.
  RandomDraws draws(5);
  const double limit = 0.524400512708041;  // normal quantile of 0.7
  int fitted = 0;
  int covered = 0;
  int textbook = 0;
  for (int world = 0; world < 2000; ++world) {
    const auto values = cut_sample(draws, 5, limit);
    const auto fit = fit_censored(values, Scatter::Normal);
    if (!fit.ok()) continue;
    ++fitted;
    const double fall =
        fit.value().log_likelihood - profile_log_likelihood(values, Scatter::Normal, 0.0);
    covered += fall <= small_sample_drop(5, 0.95) ? 1 : 0;
    textbook += fall <= textbook_drop(0.95) ? 1 : 0;
  }
  CHECK(fitted > 1900);
  CHECK(covered > 0.93 * fitted);
  CHECK(covered < 0.97 * fitted);
  CHECK(textbook < 0.93 * fitted);
}

TEST_CASE("the fitted mean of a lognormal scatter is exp(location + scale^2 / 2)") {
  CensoredFit fit;
  fit.scatter = Scatter::LogNormal;
  fit.location = 1.0;
  fit.scale = 0.5;
  // One exponential: two roundings.
  CHECK_THAT(fit.mean(), test::to_rounding(std::exp(1.125), 2));
  fit.scatter = Scatter::Normal;
  CHECK(fit.mean() == 1.0);
}
