// SPDX-License-Identifier: Apache-2.0
#include "bars.h"
#include "ranking/improvement.h"
#include "ranking/source_words.h"
#include "support/test.h"

#include <cmath>

using namespace swingloss;

namespace {

/// Four bars of 10 J: 2 % moment shared, tracking 0.1 J each.
std::vector<Bar> four_bars() {
  std::vector<Bar> bars;
  test::add_bars(bars, {"Korvel"}, {9.0, 10.0, 10.0, 11.0});
  for (Bar& bar : bars) {
    bar.energy_J =
        *bar.energy_J * Uncertain::from(1.0, 0.02, "rig.moment", SourceKind::Shared) +
        Uncertain::from(0.0, 0.1, "tracking:" + bar.id, SourceKind::Own);
  }
  return bars;
}

}  // namespace

TEST_CASE("the budget of a mean adds up to scatter and shared part") {
  const GroupSummary group = rank_bars(four_bars()).groups.front();
  REQUIRE(group.budget.size() == 3);
  CHECK(group.budget[0].source == "bar to bar");
  CHECK(group.budget[1].source == "rig.moment");
  CHECK(group.budget[2].source == "tracking");
  // s^2 = 2/3; beyond tracking 2/3 - 0.01; moment 2 % of 10; tracking 0.1/sqrt(4).
  CHECK_THAT(group.budget[0].u, test::to_rounding(std::sqrt((2.0 / 3.0 - 0.01) / 4.0), 16));
  CHECK_THAT(group.budget[1].u, test::to_rounding(0.2, 8));
  CHECK_THAT(group.budget[2].u, test::to_rounding(0.05, 8));
  double squares = 0.0;
  double fractions = 0.0;
  for (const BudgetPart& part : group.budget) {
    squares += part.u * part.u;
    fractions += part.fraction;
  }
  CHECK_THAT(squares, test::to_rounding(2.0 / 3.0 / 4.0 + 0.04, 16));
  CHECK_THAT(fractions, test::to_rounding(1.0, 8));
}

TEST_CASE("a scatter that measuring explains leaves nothing from bar to bar") {
  std::vector<Bar> bars = four_bars();
  for (Bar& bar : bars) {
    bar.energy_J =
        Uncertain::from(bar.energy_J->value(), 1.0, "tracking:" + bar.id, SourceKind::Own);
  }
  const GroupSummary group = rank_bars(bars).groups.front();
  REQUIRE(group.budget.size() == 1);
  CHECK(group.budget.front().source == "tracking");
  CHECK(group.budget.front().kind == BudgetKind::Own);
}

TEST_CASE("sources keep their names unless they end in their bar's id") {
  std::vector<Bar> bars;
  test::add_bars(bars, {"Korvel"}, {9.0});
  bars[0].id = "1";
  bars[0].energy_J = Uncertain::from(9.0, 0.1, "rate61", SourceKind::Own) +
                     Uncertain::from(0.0, 0.2, "width:1", SourceKind::Own);
  const GroupSummary group = rank_bars(bars).groups.front();
  REQUIRE(group.budget.size() == 2);
  CHECK(group.budget[0].source == "width");
  CHECK(group.budget[1].source == "rate61");
}

TEST_CASE("the largest part of a budget says what to improve") {
  const GroupSummary group = rank_bars(four_bars()).groups.front();
  CHECK(worth_improving(group.budget).find("more bars") != std::string::npos);
  std::vector<Bar> bars = four_bars();
  for (Bar& bar : bars) {
    bar.energy_J = *bar.energy_J + Uncertain::from(0.0, 2.0, "view.zero", SourceKind::Shared);
  }
  const std::string shared = worth_improving(rank_bars(bars).groups.front().budget);
  CHECK(shared.find("view.zero") != std::string::npos);
  CHECK(shared.find("more bars do not help") != std::string::npos);
  CHECK(worth_improving({}).empty());
}

TEST_CASE("a group whose scatter is not known is not told that its bars differ") {
  const auto said = [](const std::vector<double>& values, Limit limit) {
    std::vector<Bar> bars;
    test::add_bars(bars, {"Korvel"}, values);
    for (Bar& bar : bars) bar.limit = limit;
    const GroupSummary group = rank_bars(bars).groups.front();
    CHECK_FALSE(has_scatter(group));
    const std::string words = improvement_of(group);
    CHECK(words.find("differ") == std::string::npos);
    return words;
  };
  CHECK(said({9.0}, Limit::None).find("One bar") == 0);
  CHECK(said({9.0, 9.0}, Limit::None).find("all the same") != std::string::npos);
  CHECK(said({9.0, 9.5, 9.2}, Limit::Above).find("larger hammer") != std::string::npos);
  CHECK(said({9.0, 9.5, 9.2}, Limit::Below).find("smaller hammer") != std::string::npos);
  const GroupSummary known = rank_bars(four_bars()).groups.front();
  CHECK(has_scatter(known));
  CHECK(improvement_of(known) == worth_improving(known.budget));
}

TEST_CASE("sources are called by what they are, without number, bar or rig") {
  CHECK(source_words("rig.mass:bench") == "mass of arm and hammer");
  CHECK(source_words("rig.com") == "centre of mass of the arm");
  CHECK(source_words("tracking[12]:F-1") == "following the arm");
  CHECK(source_words("view.look-7") == "look of the arm as it turns");
  CHECK(source_words("new.cause:F-1") == "new.cause");
}
