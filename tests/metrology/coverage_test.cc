// SPDX-License-Identifier: Apache-2.0
#include "metrology/coverage.h"

#include "support/test.h"

#include <limits>
#include <vector>

using namespace swingloss;

namespace {
constexpr double kInfinity = std::numeric_limits<double>::infinity();
}

TEST_CASE("coverage_factor is the t of the GUM's table", "[metrology][truth]") {
  // [JCGM100] Table G.2, fractions 68.27, 90, 95, 95.45, 99, 99.73 %; all digits computed with
  // R's qt, the row of 19 degrees of freedom also remembered from the print to two decimals.
  struct Row {
    double degrees_of_freedom;
    std::vector<double> t;
  };
  const std::vector<double> coverages = {0.6827, 0.90, 0.95, 0.9545, 0.99, 0.9973};
  const std::vector<Row> table = {{1.0,
                                   {1.83740942949055,
                                    6.31375151467504,
                                    12.7062047361747,
                                    13.9678114875025,
                                    63.6567411628715,
                                    235.783687158499}},
                                  {2.0,
                                   {1.32131546244569,
                                    2.91998558035372,
                                    4.30265272974946,
                                    4.52655076008199,
                                    9.92484320091829,
                                    19.2060158878114}},
                                  {5.0,
                                   {1.11053339381402,
                                    2.01504837333302,
                                    2.57058183563631,
                                    2.64865425428312,
                                    4.03214298355523,
                                    5.50698496735488}},
                                  {16.0,
                                   {1.0322649192619,
                                    1.74588367627625,
                                    2.11990529922125,
                                    2.16894299567741,
                                    2.9207816224251,
                                    3.54409185600297}},
                                  {19.0,
                                   {1.02704030265586,
                                    1.72913281152137,
                                    2.09302405440831,
                                    2.14049662991114,
                                    2.86093460646498,
                                    3.44719981038994}},
                                  {100.0,
                                   {1.00504699463469,
                                    1.66023432608534,
                                    1.98397151852355,
                                    2.0253116527642,
                                    2.62589052143802,
                                    3.07673089891784}},
                                  {kInfinity,
                                   {1.000021713323,
                                    1.64485362695147,
                                    1.95996398454005,
                                    2.0000024438996,
                                    2.5758293035489,
                                    2.9999769927034}}};
  for (const Row& row : table) {
    for (std::size_t i = 0; i < coverages.size(); ++i) {
      CAPTURE(row.degrees_of_freedom, coverages[i]);
      CHECK_THAT(coverage_factor(coverages[i], row.degrees_of_freedom),
                 test::to_printed_digits(row.t[i], 11));
    }
  }
}

TEST_CASE("coverage_factor takes degrees of freedom between whole numbers",
          "[metrology][truth]") {
  // Between the table's 3.18 for 3 and 2.78 for 4, and past them for less than 1.
  CHECK(coverage_factor(0.95, 3.5) < coverage_factor(0.95, 3.0));
  CHECK(coverage_factor(0.95, 3.5) > coverage_factor(0.95, 4.0));
  CHECK(coverage_factor(0.95, 0.5) > coverage_factor(0.95, 1.0));
}

TEST_CASE("expanded reproduces the GUM's product of three", "[metrology][truth]") {
  // [JCGM100] G.4.1 example: relative u 0.25, 0.57, 0.82 % from 10, 5, 15 readings; printed
  // u_c 1.03 %, 19.0 degrees of freedom, t 2.09, U 2.2 % (values from memory and recomputed).
  const auto factor = [](const char* name, double u, int readings) {
    return Uncertain::from(1.0, u, name, SourceKind::Own, readings - 1);
  };
  const Uncertain product =
      factor("a", 0.0025, 10) * factor("b", 0.0057, 5) * factor("c", 0.0082, 15);
  const Expanded result = expanded(product, 0.95);
  CHECK_THAT(100.0 * product.u(), test::to_printed_digits(1.0294658809304948, 10));
  CHECK_THAT(result.degrees_of_freedom, test::to_printed_digits(18.998742314267954, 10));
  CHECK_THAT(result.coverage_factor, test::to_printed_digits(2.09, 3));
  CHECK_THAT(100.0 * result.expanded_u, test::to_printed_digits(2.2, 2));
  CHECK(result.value == 1.0);
  CHECK(result.low() == 1.0 - result.expanded_u);
  CHECK(result.high() == 1.0 + result.expanded_u);
}

TEST_CASE("degrees of freedom follow the published Welch-Satterthwaite example",
          "[metrology][truth]") {
  // Inputs of the help page of function w.s in the R package metRology; result recomputed.
  const Uncertain sum = Uncertain::from(0.0, 0.1, "a", SourceKind::Own) +
                        2.0 * Uncertain::from(0.0, 0.3, "b", SourceKind::Own, 6.0) +
                        3.0 * Uncertain::from(0.0, 0.2, "c", SourceKind::Own, 8.0) +
                        0.5 * Uncertain::from(0.0, 1.1, "d", SourceKind::Own, 3.0);
  CHECK_THAT(sum.u(), test::to_printed_digits(1.0161200716450787, 13));
  CHECK_THAT(sum.degrees_of_freedom(), test::to_printed_digits(15.607960957755067, 13));
}

TEST_CASE("coverage refuses nonsense", "[metrology]") {
  CHECK_THROWS_AS(coverage_factor(0.0, 5.0), std::logic_error);
  CHECK_THROWS_AS(coverage_factor(1.0, 5.0), std::logic_error);
  CHECK_THROWS_AS(coverage_factor(0.95, 0.0), std::logic_error);
}
