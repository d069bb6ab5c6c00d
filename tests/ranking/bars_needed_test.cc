// SPDX-License-Identifier: Apache-2.0
#include "ranking/bars_needed.h"

#include "support/test.h"

#include <cmath>
#include <vector>

using namespace swingloss;

TEST_CASE("two_group_power agrees with R's power.t.test", "[truth]") {
  // R 4.2.2 power.t.test(n, delta, sd = 1, strict = TRUE): a row an n, a column a difference.
  const std::vector<double> bars{3, 4, 5, 6, 8, 10, 15, 20, 30};
  const std::vector<double> differences{0.5, 1, 1.5, 2, 3};
  const std::vector<std::vector<double>> power{
      {0.0768490499604122,
       0.158790870006124,
       0.293194700305873,
       0.462640811891427,
       0.782554387058451},
      {0.0922823792384923,
       0.223188030697713,
       0.429997556180116,
       0.656875875095396,
       0.938935745509481},
      {0.107685989798184,
       0.286295493381156,
       0.549385597762642,
       0.790542377972668,
       0.984701714236331},
      {0.123104828101821,
       0.347353697272282,
       0.649581480230365,
       0.876417771412167,
       0.996446096373731},
      {0.154047502336246,
       0.46123884950425,
       0.796545010133802,
       0.960220772672729,
       0.999836352743389},
      {0.185095656291803,
       0.562006646586232,
       0.886970202255284,
       0.988178988519663,
       0.999993526685535},
      {0.262443033865462,
       0.752923034503489,
       0.977431889912932,
       0.99955252754945,
       0.999999998690904},
      {0.33793902892509,
       0.868953027724586,
       0.996099693410884,
       0.999986574936862,
       0.999999999999823},
      {0.477896520760209, 0.967708258242515, 0.999911986508872, 0.999999992138526, 1}};
  for (std::size_t i = 0; i < bars.size(); ++i) {
    for (std::size_t j = 0; j < differences.size(); ++j) {
      CAPTURE(bars[i], differences[j]);
      CHECK_THAT(two_group_power(bars[i], differences[j], 0.05),
                 test::to_printed_digits(power[i][j], 10));
    }
  }
}

TEST_CASE("bars_for_power agrees with R's power.t.test", "[truth]") {
  // R 4.2.2 power.t.test(power, delta, sd = 1): without `strict` the far tail, which is below
  // 1e-4 of the power here, is left out, and R's root stops at 1e-4 of n: six digits less one.
  const std::vector<double> differences{0.5, 0.75, 1, 1.25, 1.5, 2, 2.5, 3};
  const std::vector<double> wanted{0.8, 0.9, 0.95};
  const std::vector<std::vector<double>> bars{
      {63.7657637142739, 85.0312893853756, 104.927952060009},
      {28.8996246649069, 38.3460104474717, 47.1860335281246},
      {16.7147681423283, 22.0210977038512, 26.9892186603963},
      {11.0942334508361, 14.4809842250003, 17.6548635715945},
      {8.06030950441486, 10.4014651421968, 12.5987222119727},
      {5.09000814871002, 6.38675601578446, 7.60895798540236},
      {3.76181491946799, 4.5747843216151, 5.34354863080089},
      {3.07001019072005, 3.62481804997668, 4.14867776878467}};
  for (std::size_t i = 0; i < differences.size(); ++i) {
    for (std::size_t j = 0; j < wanted.size(); ++j) {
      CAPTURE(differences[i], wanted[j]);
      CHECK_THAT(bars_for_power(differences[i], 0.05, wanted[j]),
                 test::to_printed_digits(bars[i][j], 5));
    }
  }
}

TEST_CASE("BarsNeeded gives the next whole number above bars_for_power") {
  for (const double alpha : {0.05, 0.05 / 45.0}) {
    BarsNeeded needed(alpha, 0.8);
    for (const double d : {0.3, 0.5, 1.0, 2.0, 5.0}) {
      CAPTURE(alpha, d);
      const int n = static_cast<int>(std::ceil(bars_for_power(d, alpha, 0.8)));
      CHECK(needed.smallest(d, 1.0) == std::max(2, n));
    }
  }
}

TEST_CASE("BarsNeeded says when no number of bars is enough") {
  BarsNeeded needed(0.05, 0.8);
  CHECK_FALSE(needed.smallest(0.0, 1.0).has_value());
  CHECK_FALSE(needed.smallest(0.01, 1.0).has_value());
  CHECK_FALSE(needed.smallest(1.0, 0.0).has_value());
  // A doubt between two rigs of half the difference: 1/0.5 never reaches 1.96 + 0.84.
  CHECK_FALSE(needed.smallest(1.0, 0.1, 0.25).has_value());
  // With a smaller one more bars are needed than without it.
  CHECK(*needed.smallest(1.0, 1.0, 0.05) > *needed.smallest(1.0, 1.0));
}
