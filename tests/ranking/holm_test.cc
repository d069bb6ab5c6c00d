// SPDX-License-Identifier: Apache-2.0
#include "ranking/holm.h"

#include "support/test.h"

using namespace swingloss;

TEST_CASE("holm_adjusted agrees with R's p.adjust", "[truth]") {
  // R 4.2.2 p.adjust(p, "holm"); the second list is that of Benjamini & Hochberg 1995.
  struct Row {
    std::vector<double> p, holm;
  };
  const std::vector<Row> rows{
      {{0.01, 0.04, 0.03, 0.005}, {0.03, 0.06, 0.06, 0.02}},
      {{0.0001,
        0.0004,
        0.0019,
        0.0095,
        0.0201,
        0.0278,
        0.0298,
        0.0344,
        0.0459,
        0.324,
        0.4262,
        0.5719,
        0.6528,
        0.759,
        1},
       {0.0015, 0.0056, 0.0247, 0.114, 0.2211, 0.278, 0.278, 0.278, 0.3213, 1, 1, 1, 1, 1, 1}}};
  for (const Row& row : rows) {
    const std::vector<double> found = holm_adjusted(row.p);
    REQUIRE(found.size() == row.holm.size());
    // One product each: two roundings.
    for (std::size_t i = 0; i < found.size(); ++i) {
      CHECK_THAT(found[i], test::to_rounding(row.holm[i], 2));
    }
  }
}

TEST_CASE("holm_adjusted of nothing is nothing, of one is itself") {
  CHECK(holm_adjusted({}).empty());
  CHECK(holm_adjusted({0.3}) == std::vector<double>{0.3});
  CHECK_THROWS_AS(holm_adjusted({1.2}), std::logic_error);
}
