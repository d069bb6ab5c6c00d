// SPDX-License-Identifier: Apache-2.0
#include "ranking/welch.h"

#include "ranking/sample.h"
#include "reference_data.h"
#include "support/test.h"

#include <cmath>
#include <limits>

using namespace swingloss;

namespace {

EstimatedMean estimate(const std::vector<double>& values) {
  const Sample sample = summarise(values);
  return {sample.mean, sample.mean_variance(), sample.n - 1.0};
}

std::vector<EstimatedMean> estimates(const std::vector<test::NamedValues>& groups) {
  std::vector<EstimatedMean> found;
  found.reserve(groups.size());
  for (const test::NamedValues& group : groups) found.push_back(estimate(group.values));
  return found;
}

/// NIST's recipe of the SmLs sets: nine treatments on a common base, each its own value and
/// then that value - 0.1 and + 0.1 in turn.
std::vector<std::vector<double>> small_large(double base, int replicates) {
  std::vector<std::vector<double>> groups;
  for (const double tenths : {4, 3, 5, 3, 5, 3, 5, 3, 5}) {
    std::vector<double> group{base + tenths / 10.0};
    for (int i = 1; i < replicates; ++i) {
      group.push_back(base + (tenths + (i % 2 == 1 ? -1.0 : 1.0)) / 10.0);
    }
    groups.push_back(group);
  }
  return groups;
}

}  // namespace

TEST_CASE("welch_test agrees with R's t.test on the sleep data", "[truth]") {
  // R 4.2.2, t.test(extra ~ group, sleep), Student's data.
  const WelchTest test =
      welch_test(estimate({0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0, 2}),
                 estimate({1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4}),
                 0.95);
  CHECK_THAT(test.t, test::to_printed_digits(-1.86081346748685, 13));
  CHECK_THAT(test.degrees_of_freedom, test::to_printed_digits(17.7764735161785, 13));
  CHECK_THAT(test.p_value, test::to_printed_digits(0.0793941401873582, 12));
  CHECK_THAT(*test.interval.low, test::to_printed_digits(-3.36548323071171, 12));
  CHECK_THAT(*test.interval.high, test::to_printed_digits(0.20548323071171, 11));
}

TEST_CASE("welch_test agrees with R on the four impact machines", "[truth]") {
  // R 4.2.2 on NIST SPLETT2.DAT: t and degrees of freedom of every pair.
  const auto groups = estimates(test::four_machines());
  struct Row {
    std::size_t a, b;
    double t, nu;
  };
  for (const Row& row : {Row{1, 0, 2.37150314568882, 46.9997201616736},
                         Row{2, 0, 7.40104615155638, 46.9963536589787},
                         Row{3, 0, 0.547176682498449, 46.5437400070013},
                         Row{2, 1, 4.99686398293539, 47.9939232730341},
                         Row{3, 1, -1.9185220641414, 47.5579893220682},
                         Row{3, 2, -7.13601509798624, 47.4512155850893}}) {
    CAPTURE(row.a, row.b);
    const WelchTest test = welch_test(groups[row.a], groups[row.b], 0.95);
    CHECK_THAT(test.t, test::to_printed_digits(row.t, 11));
    CHECK_THAT(test.degrees_of_freedom, test::to_printed_digits(row.nu, 12));
  }
}

TEST_CASE("welch_anova agrees with R's oneway.test", "[truth]") {
  // R 4.2.2 oneway.test(y ~ g).
  struct Row {
    std::vector<test::NamedValues> data;
    double f, nu, p;
    int digits_of_p;
  };
  for (const Row& row :
       {Row{test::plant_growth(), 5.18097240811319, 17.1284186166441, 0.01739282149017, 12},
        Row{test::four_machines(),
            22.4204566366476,
            52.7085777818974,
            1.72149464637185e-9,
            10}}) {
    const WelchAnova anova = welch_anova(estimates(row.data));
    CHECK_THAT(anova.f, test::to_printed_digits(row.f, 12));
    CHECK_THAT(anova.degrees_of_freedom_2, test::to_printed_digits(row.nu, 12));
    CHECK_THAT(anova.p_value, test::to_printed_digits(row.p, row.digits_of_p));
  }
}

TEST_CASE("welch_anova of two means is the square of Welch's t") {
  const EstimatedMean a{10.0, 0.4, 4.0};
  const EstimatedMean b{11.5, 0.9, 7.0};
  const WelchTest t = welch_test(a, b, 0.95);
  const WelchAnova f = welch_anova({a, b});
  // The same numbers through other sums: ten roundings.
  CHECK_THAT(f.f, test::to_rounding(t.t * t.t, 16));
  CHECK_THAT(f.degrees_of_freedom_2, test::to_rounding(t.degrees_of_freedom, 16));
}

// Source of the next two: [NISTStRD], analysis of variance, certified to 15 digits.
TEST_CASE("one_way_anova gives the certified digits of the NIST sets", "[truth]") {
  const OneWayAnova silicon = one_way_anova(test::nist_si_rstv());
  CHECK_THAT(silicon.f, test::to_printed_digits(1.18046237440255, 9));
  CHECK_THAT(silicon.between_squares, test::to_printed_digits(0.0511462616, 9));
  CHECK_THAT(silicon.residual_s, test::to_printed_digits(0.104076068334656, 12));
  CHECK(silicon.between_degrees_of_freedom == 4.0);
  CHECK(silicon.within_degrees_of_freedom == 20.0);
  const OneWayAnova silver = one_way_anova(test::nist_atm_wt_ag());
  // Values near 107.868 are stored to 7e-15 and scatter by 1.5e-5: nine digits of squares left.
  CHECK_THAT(silver.f, test::to_printed_digits(15.946733567793, 8));
  CHECK_THAT(silver.residual_s, test::to_printed_digits(1.5104831444641e-5, 8));
  for (const auto& [replicates, f] : {std::pair{21, 21.0}, {201, 201.0}, {2001, 2001.0}}) {
    CHECK_THAT(one_way_anova(small_large(1.0, replicates)).f, test::to_printed_digits(f, 12));
  }
}

TEST_CASE("one_way_anova loses only the digits that doubles cannot store", "[truth]") {
  // The same sets on 1e6 and 1e12. Storing moves a value by half a unit in the last place,
  // 2^-34 and 2^-14; against the difference of 0.1 that makes deviations, squares and F off by
  // up to 4 of these, relative.
  for (const auto& [replicates, f] : {std::pair{21, 21.0}, {201, 201.0}, {2001, 2001.0}}) {
    CAPTURE(replicates);
    CHECK_THAT(one_way_anova(small_large(1e6, replicates)).f,
               test::to_truncation(f, f * 4.0 * std::ldexp(1.0, -34) / 0.1));
    CHECK_THAT(one_way_anova(small_large(1e12, replicates)).f,
               test::to_truncation(f, f * 4.0 * std::ldexp(1.0, -14) / 0.1));
  }
}

TEST_CASE("combine_variances gives the degrees of freedom of GUM G.4.1", "[truth]") {
  // [JCGM100 G.4.1]: 0.25, 0.57 and 0.82 % from 10, 5 and 15 readings: 1.03 %, 19.
  const CombinedVariance sum =
      combine_variances({{0.25 * 0.25, 9.0}, {0.57 * 0.57, 4.0}, {0.82 * 0.82, 14.0}});
  CHECK_THAT(std::sqrt(sum.variance), test::to_printed_digits(1.03, 3));
  CHECK_THAT(sum.degrees_of_freedom, test::to_printed_decimals(19.0, 1));
  const double infinite = std::numeric_limits<double>::infinity();
  CHECK(combine_variances({{2.0, infinite}, {0.0, 3.0}}).degrees_of_freedom == infinite);
}

TEST_CASE("a doubt between two rigs widens Welch's interval") {
  const EstimatedMean a{10.0, 0.04, 4.0};
  const EstimatedMean b{9.0, 0.04, 4.0};
  const double infinite = std::numeric_limits<double>::infinity();
  const WelchTest alone = welch_test(a, b, 0.95);
  const WelchTest doubted = welch_test(a, b, 0.95, {0.25, infinite});
  CHECK(doubted.p_value > alone.p_value);
  // t = 1 / sqrt(0.08 + 0.25), three roundings.
  CHECK_THAT(doubted.t, test::to_rounding(1.0 / std::sqrt(0.33), 4));
  CHECK(doubted.degrees_of_freedom > alone.degrees_of_freedom);
  CHECK_THROWS_AS(welch_test({1, 0, 3}, {2, 0, 3}, 0.95), std::logic_error);
}
