// SPDX-License-Identifier: Apache-2.0
#include "ranking/plan_bars.h"

#include "bars.h"
#include "core/input_error.h"
#include "metrology/random_draws.h"
#include "ranking/plan_reached.h"
#include "ranking/sample.h"
#include "support/test.h"

#include <cmath>

using namespace swingloss;

TEST_CASE("plan_bars rounds R's power.t.test up to whole bars", "[truth]") {
  // R 4.2.2 power.t.test, n for 80, 90 and 95 %: difference over sd 0.5: 63.77, 85.03, 104.93;
  // 1: 16.71, 22.02, 26.99; 2: 5.09, 6.39, 7.61; 3: 3.07, 3.62, 4.15.
  BarsQuestion question;
  question.cv = 0.10;
  question.differences = {0.05, 0.10, 0.20, 0.30};
  const std::vector<BarsRow> rows = plan_bars(question);
  REQUIRE(rows.size() == 4);
  CHECK(rows[0].bars == std::vector<std::optional<int>>{64, 86, 105});
  CHECK(rows[1].bars == std::vector<std::optional<int>>{17, 23, 27});
  CHECK(rows[2].bars == std::vector<std::optional<int>>{6, 7, 8});
  CHECK(rows[3].bars == std::vector<std::optional<int>>{4, 4, 5});
}

TEST_CASE("more comparisons ask for more bars, hopeless differences for none") {
  BarsQuestion one;
  one.differences = {0.10, 0.001};
  BarsQuestion ten = one;
  ten.comparisons = 10;
  CHECK(*plan_bars(ten)[0].bars[0] > *plan_bars(one)[0].bars[0]);
  CHECK_FALSE(plan_bars(one)[1].bars[0].has_value());
}

TEST_CASE("plan_precision: half-width by Student's t, difference by power", "[truth]") {
  BarsQuestion question;
  question.cv = 0.10;
  const std::vector<PrecisionRow> rows = plan_precision(question, 20);
  CHECK(rows.front().bars == 2);
  CHECK(rows.back().bars == 20);
  // [JCGM100 Table G.2]: t = 2.77644510519779 for 4 degrees of freedom.
  CHECK_THAT(rows[3].half_width,
             test::to_truncation(0.1 * 2.77644510519779 / std::sqrt(5.0), 1e-12));
  // R 4.2.2: five bars find 2 sd with 79.05 %, six with 87.6 %: 80 % lies a little above 2.
  CHECK(rows[3].difference_found > 0.20);
  CHECK(rows[4].difference_found < 0.20);
}

TEST_CASE("bars_for_half_width is the first number that is short enough") {
  const auto n = bars_for_half_width(0.10, 0.05, 0.95);
  REQUIRE(n.has_value());
  BarsQuestion question;
  const std::vector<PrecisionRow> rows = plan_precision(question, *n);
  CHECK(rows[static_cast<std::size_t>(*n - 2)].half_width <= 0.05);
  CHECK(rows[static_cast<std::size_t>(*n - 3)].half_width > 0.05);
  CHECK_FALSE(bars_for_half_width(0.10, 0.001, 0.95).has_value());
}

TEST_CASE("cautious_scatter lies above the true scatter four times in five") {
  // 4000 samples of five: deviation sqrt(0.8 0.2 / 4000) = 0.0063.
  RandomDraws draws(81);
  int above = 0;
  for (int trial = 0; trial < 4000; ++trial) {
    std::vector<double> values(5);
    for (double& value : values) value = draws.normal();
    above += cautious_scatter(*summarise(values).s, 5) >= 1.0 ? 1 : 0;
  }
  CHECK_THAT(above / 4000.0, test::to_uncertainty(0.8, 0.0063));
}

TEST_CASE("plan questions out of range are named") {
  BarsQuestion question;
  question.cv = 0.0;
  CHECK_THROWS_AS(plan_bars(question), InputError);
  question = {};
  question.powers = {0.01};
  CHECK_THROWS_AS(plan_bars(question), InputError);
  question = {};
  question.differences = {-0.1};
  CHECK_THROWS_AS(plan_bars(question), InputError);
  CHECK_THROWS_AS(plan_precision({}, 1), InputError);
}

TEST_CASE("precision_reached reads the interval and plans with the cautious scatter") {
  const Ranking ranking = rank_bars(test::three_groups());
  const std::vector<ReachedRow> rows = precision_reached(ranking, {0.10, 0.03});
  REQUIRE(rows.size() == 3);
  const GroupSummary& group = ranking.groups[rows[0].group];
  CHECK(rows[0].bars == 5);
  // The interval is symmetric: its upper half over the mean.
  CHECK_THAT(*rows[0].half_width,
             test::to_rounding((*group.interval.high - *group.mean) / *group.mean, 64));
  CHECK(*rows[0].cautious_cv > 1.5 * *group.cv);
  CHECK(*rows[0].bars_for[0] < *rows[0].bars_for[1]);
  CHECK_THROWS_AS(precision_reached(ranking, {0.0}), InputError);
  std::vector<Bar> single;
  test::add_bars(single, {"Solo"}, {2.0});
  CHECK(precision_reached(rank_bars(single)).empty());
}
