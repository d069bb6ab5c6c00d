// SPDX-License-Identifier: Apache-2.0
#include "bars.h"
#include "ranking/ranking.h"
#include "support/test.h"

#include <string>
#include <vector>

using namespace swingloss;
using test::add_bars;
using test::group_named;
using test::has_remark;
using test::pair_of;
using test::three_groups;

TEST_CASE("break types are not averaged together") {
  // ISO 179-1 (from memory): C and H may share a mean, P has its own, N has no value.
  std::vector<Bar> bars;
  add_bars(bars, {"Korvel"}, {2.0, 2.2});
  test::BarKind hinge{"Korvel"};
  hinge.break_type = BreakType::Hinge;
  add_bars(bars, hinge, {2.4});
  test::BarKind partial{"Korvel"};
  partial.break_type = BreakType::Partial;
  add_bars(bars, partial, {5.0, 6.0});
  const GroupSummary group = rank_bars(bars).groups.front();
  // (2.0 + 2.2 + 2.4) / 3: one sum and a division.
  CHECK_THAT(*group.mean, test::to_rounding(2.2, 4));
  CHECK(group.n_exact == 3);
  CHECK(group.n_apart == 2);
  CHECK(group.main_break_type == BreakType::Complete);
  REQUIRE(group.break_classes.size() == 2);
  CHECK(group.break_classes[0].name == "C+H");
  CHECK(group.break_classes[0].in_group_mean);
  CHECK(group.break_classes[1].name == "P");
  CHECK_FALSE(group.break_classes[1].in_group_mean);
  CHECK_THAT(*group.break_classes[1].mean, test::to_rounding(5.5, 2));
  CHECK(has_remark(group.remarks, "break-types-apart"));

  RankingOptions pooled;
  pooled.pool_break_types = true;
  const GroupSummary all = rank_bars(bars, pooled).groups.front();
  CHECK_THAT(*all.mean, test::to_rounding(3.52, 4));
  CHECK(all.pooled_break_types);
  CHECK(has_remark(all.remarks, "break-types-pooled"));
}

TEST_CASE("where partial breaks are more, the mean is theirs") {
  std::vector<Bar> bars;
  test::BarKind partial{"Korvel"};
  partial.break_type = BreakType::Partial;
  add_bars(bars, {"Korvel"}, {2.0});
  add_bars(bars, partial, {5.0, 6.0});
  const GroupSummary group = rank_bars(bars).groups.front();
  // (5 + 6) / 2 is exact in binary.
  CHECK(*group.mean == 5.5);
  CHECK(group.main_break_type == BreakType::Partial);
  CHECK(group.n_apart == 1);
}

TEST_CASE("bars of unknown break type go with the mean, and are named") {
  std::vector<Bar> bars;
  test::BarKind unknown{"Korvel"};
  unknown.break_type = BreakType::Unknown;
  add_bars(bars, unknown, {2.0, 2.2});
  CHECK(rank_bars(bars).groups.front().break_classes.front().name == "type not given");
  add_bars(bars, {"Korvel"}, {2.4});
  const GroupSummary group = rank_bars(bars).groups.front();
  CHECK(group.n_exact == 3);
  CHECK(group.break_classes.front().name == "C+type not given");
  CHECK(has_remark(group.remarks, "break-type-missing"));
}

TEST_CASE("a bar that did not break is a bound, whatever limit was typed") {
  std::vector<Bar> bars;
  add_bars(bars, {"Korvel"}, {2.0, 2.2, 2.1});
  test::BarKind held{"Korvel"};
  held.break_type = BreakType::NonBreak;
  add_bars(bars, held, {3.9});
  const GroupSummary group = rank_bars(bars).groups.front();
  CHECK(group.method == MeanMethod::Likelihood);
  CHECK(group.n_exact == 3);
  CHECK(group.n_above == 1);
  CHECK(*group.mean > 2.1);
  CHECK(*group.interval.high > 3.9);
  CHECK(has_remark(group.remarks, "non-break-as-limit"));
  CHECK(has_remark(group.remarks, "censored"));
  REQUIRE(group.survival.has_value());
  CHECK(group.survival->steps.size() == 3);
  REQUIRE(group.log_normal.has_value());
  // The standard's own figure stays in sight: the plain mean of the broken ones.
  CHECK_THAT(*group.break_classes.front().mean, test::to_rounding(2.1, 4));
  CHECK(group.break_classes.back().name == "N");
  CHECK_FALSE(group.break_classes.back().mean.has_value());
}

TEST_CASE("a group in which no bar broke is a lower bound, and ranks above what it exceeds") {
  std::vector<Bar> bars = three_groups();
  add_bars(bars, test::unbroken({"Veltan"}), {3.9, 3.9, 3.9, 3.9, 3.9});
  const Ranking ranking = rank_bars(bars);
  const GroupSummary& held = ranking.groups.front();
  CHECK(held.name == "Veltan");
  CHECK(held.method == MeanMethod::LowerBound);
  CHECK_FALSE(held.mean.has_value());
  CHECK(*held.bound == 3.9);
  // By counting: 1 - 1/2^5, exact in binary.
  CHECK(held.bound_confidence == 0.96875);
  CHECK(*held.interval.low == 3.9);
  CHECK_FALSE(held.interval.high.has_value());
  for (const char* name : {"Korvel", "Tessan", "Morrow"}) {
    const Comparison& pair = pair_of(ranking, "Veltan", name);
    CHECK(pair.verdict == Verdict::Clear);
    CHECK(pair.method == "likelihood ratio, common relative scatter");
    CHECK_FALSE(pair.difference.has_value());
    CHECK(*pair.ratio_interval.low > 1.0);
  }
}

TEST_CASE("a bound below the others' means says nothing of the order") {
  std::vector<Bar> bars;
  add_bars(bars, {"Korvel"}, {2.6, 2.8, 2.55, 2.7, 2.75});
  add_bars(bars, test::unbroken({"Veltan"}), {1.0, 1.0, 1.0, 1.0, 1.0});
  const Ranking ranking = rank_bars(bars);
  CHECK(ranking.groups.front().name == "Korvel");
  CHECK(ranking.comparisons.front().verdict == Verdict::NotResolved);
  CHECK_FALSE(ranking.comparisons.front().p_value.has_value());
  CHECK_FALSE(ranking.comparisons.front().bars_words.empty());
  CHECK(*ranking.groups.back().p_best > 0.2);
}

TEST_CASE("three survivors reach 88 per cent, and that is said instead of 95") {
  std::vector<Bar> bars;
  add_bars(bars, test::unbroken({"Veltan"}), {3.9, 3.8, 4.0});
  const GroupSummary group = rank_bars(bars).groups.front();
  CHECK(*group.bound == 3.8);
  CHECK(group.bound_confidence == 0.875);
  CHECK_FALSE(group.interval.low.has_value());
}

TEST_CASE("values below what the instrument shows give an upper bound or join the likelihood") {
  std::vector<Bar> bars;
  test::BarKind below{"Brittel"};
  below.limit = Limit::Below;
  add_bars(bars, below, {0.2, 0.2, 0.2, 0.2, 0.2});
  add_bars(bars, {"Korvel"}, {2.6, 2.8, 2.55, 2.7, 2.75});
  add_bars(bars, {"Mixel"}, {0.3, 0.4, 0.35});
  add_bars(bars, {"Mixel", "", "", "", BreakType::Complete, Limit::Below}, {0.2});
  const Ranking ranking = rank_bars(bars);
  const GroupSummary& bound = group_named(ranking, "Brittel");
  CHECK(bound.method == MeanMethod::UpperBound);
  CHECK(*bound.bound == 0.2);
  CHECK(*bound.interval.high == 0.2);
  CHECK(group_named(ranking, "Mixel").method == MeanMethod::Likelihood);
  CHECK(*group_named(ranking, "Mixel").mean < 0.35);
  CHECK(pair_of(ranking, "Brittel", "Korvel").verdict == Verdict::Clear);
  CHECK(ranking.groups.back().name == "Brittel");
}

TEST_CASE("bounds that exclude one another are told apart by counting") {
  std::vector<Bar> bars;
  test::BarKind below{"Brittel"};
  below.limit = Limit::Below;
  add_bars(bars, below, {0.2, 0.2, 0.2, 0.2});
  add_bars(bars, test::unbroken({"Veltan"}), {3.9, 3.9, 3.9, 3.9});
  const Comparison pair = rank_bars(bars).comparisons.front();
  CHECK(pair.method == "exact rank test");
  // 2 of 70 orders of four and four.
  CHECK_THAT(*pair.p_value, test::to_rounding(2.0 / 70.0, 4));
  CHECK(pair.verdict == Verdict::Clear);
}

TEST_CASE("one bar is ranked by its value, never called clear, and this is said") {
  std::vector<Bar> bars = three_groups();
  add_bars(bars, {"Solo"}, {9.0});
  const Ranking ranking = rank_bars(bars);
  const GroupSummary& solo = ranking.groups.front();
  CHECK(solo.name == "Solo");
  CHECK(solo.method == MeanMethod::OneBar);
  CHECK_FALSE(solo.s.has_value());
  CHECK_FALSE(solo.interval.low.has_value());
  CHECK(has_remark(solo.remarks, "one-bar"));
  CHECK(pair_of(ranking, "Solo", "Tessan").verdict == Verdict::Likely);
  CHECK(pair_of(ranking, "Solo", "Tessan").bars_to_resolve.has_value());
  CHECK(*solo.p_best > 0.99);
}

TEST_CASE("single bars only: placed by value, without chances, and said") {
  std::vector<Bar> bars;
  add_bars(bars, {"Solo"}, {9.0});
  add_bars(bars, {"Duo"}, {8.0});
  const Ranking ranking = rank_bars(bars);
  CHECK(ranking.groups.front().name == "Solo");
  CHECK(ranking.groups.front().rank_probability.empty());
  CHECK_FALSE(ranking.comparisons.front().p_value.has_value());
  CHECK(ranking.comparisons.front().verdict == Verdict::NotResolved);
  CHECK_FALSE(ranking.comparisons.front().bars_words.empty());
  CHECK(has_remark(ranking.remarks, "ranks-without-chance"));
}

TEST_CASE("identical values give no interval and no clear verdict") {
  std::vector<Bar> bars = three_groups();
  add_bars(bars, {"Same"}, {9.0, 9.0, 9.0});
  const Ranking ranking = rank_bars(bars);
  const GroupSummary& same = group_named(ranking, "Same");
  CHECK(same.method == MeanMethod::NoScatter);
  CHECK(*same.s == 0.0);
  CHECK_FALSE(same.interval.low.has_value());
  CHECK(has_remark(same.remarks, "no-scatter"));
  CHECK(pair_of(ranking, "Same", "Korvel").verdict == Verdict::Likely);

  std::vector<Bar> all_same;
  add_bars(all_same, {"A"}, {3.0, 3.0});
  add_bars(all_same, {"B"}, {2.0, 2.0});
  const Ranking none = rank_bars(all_same);
  CHECK_FALSE(none.comparisons.front().p_value.has_value());
  CHECK(none.comparisons.front().verdict == Verdict::NotResolved);
}

TEST_CASE("equal readings of a coarse scale scatter by what one reading is worth") {
  std::vector<Bar> bars;
  add_bars(bars, {"Same"}, {9.0, 9.0, 9.0, 9.0});
  for (Bar& bar : bars) {
    bar.energy_J = Uncertain::from(9.0, 0.1, "reading " + bar.id, SourceKind::Own);
  }
  const GroupSummary group = rank_bars(bars).groups.front();
  CHECK(group.method == MeanMethod::Sample);
  CHECK(has_remark(group.remarks, "scatter-below-measurement"));
  // [JCGM100 Table G.2]: t = 3.182446305 for 3 degrees of freedom; half = t 0.1 / 2.
  CHECK_THAT(*group.interval.high, test::to_truncation(9.0 + 0.05 * 3.182446305, 1e-9));
}

TEST_CASE("two bars have an interval with one degree of freedom") {
  std::vector<Bar> bars;
  add_bars(bars, {"Korvel"}, {2.0, 2.2});
  const GroupSummary group = rank_bars(bars).groups.front();
  // [JCGM100 Table G.2]: t = 12.7062047361747; s = 0.2 / sqrt(2), half = t 0.1.
  CHECK_THAT(*group.interval.low, test::to_truncation(2.1 - 1.27062047361747, 1e-12));
  CHECK(has_remark(group.remarks, "two-bars"));
}
