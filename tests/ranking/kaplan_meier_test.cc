// SPDX-License-Identifier: Apache-2.0
#include "ranking/kaplan_meier.h"

#include "support/test.h"
#include "survfit_sets.h"

using namespace swingloss;

namespace {

void check_end(const std::optional<double>& found, double wanted) {
  CHECK(found.has_value() == (wanted >= 0.0));
  if (found && wanted >= 0.0) CHECK_THAT(*found, test::to_printed_digits(wanted, 12));
}

}  // namespace

TEST_CASE("kaplan_meier agrees with R's survfit", "[truth]") {
  for (const test::SurvfitSet& set : test::survfit_sets()) {
    CAPTURE(set.name);
    const SurvivalCurve curve = kaplan_meier(set.values);
    REQUIRE(curve.steps.size() == set.lines.size());
    for (std::size_t i = 0; i < set.lines.size(); ++i) {
      CAPTURE(i);
      const SurvivalStep& step = curve.steps[i];
      const test::SurvfitLine& line = set.lines[i];
      CHECK(step.value == line.value);
      CHECK(step.at_risk == line.at_risk);
      CHECK(step.broken == line.broken);
      CHECK_THAT(step.share, test::to_printed_digits(line.share, 12));
      CHECK_THAT(step.u_share, test::to_printed_digits(line.u_share, 12));
      check_end(step.interval.low, line.low);
      check_end(step.interval.high, line.high);
    }
    check_end(curve.median, set.median);
    check_end(curve.median_interval.low, set.median_low);
    check_end(curve.median_interval.high, set.median_high);
  }
}

TEST_CASE("kaplan_meier of bars that all held has no step, of no bars nothing") {
  const std::vector<CensoredValue> held(3, {5.0, Limit::Above});
  CHECK(kaplan_meier(held).steps.empty());
  CHECK_FALSE(kaplan_meier(held).median.has_value());
  CHECK(kaplan_meier({}).steps.empty());
  CHECK_THROWS_AS(kaplan_meier({{1.0, Limit::Below}}), std::logic_error);
}

TEST_CASE("a curve that runs along one half has its median in the middle of that run") {
  // Four bars: half of them hold from 2 to 3. survfit reads 2.5.
  const SurvivalCurve curve = kaplan_meier(
      {{1.0, Limit::None}, {2.0, Limit::None}, {3.0, Limit::None}, {4.0, Limit::None}});
  REQUIRE(curve.median.has_value());
  CHECK(*curve.median == 2.5);
}
