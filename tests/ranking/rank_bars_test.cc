// SPDX-License-Identifier: Apache-2.0
#include "bars.h"
#include "core/angle.h"
#include "core/input_error.h"
#include "metrology/random_draws.h"
#include "ranking/ranking.h"
#include "support/test.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

using namespace swingloss;
using test::add_bars;
using test::group_named;
using test::has_remark;
using test::pair_of;
using test::three_groups;

TEST_CASE("rank_bars ranks strength where every counted bar has a section, else energy") {
  std::vector<Bar> bars = three_groups();
  CHECK(rank_bars(bars).quantity == Quantity::Energy_J);
  for (Bar& bar : bars) bar.strength_kJ_m2 = Uncertain::exact(bar.energy_J->value() / 0.04);
  CHECK(rank_bars(bars).quantity == Quantity::Strength_kJ_m2);
  bars[3].strength_kJ_m2.reset();
  CHECK(rank_bars(bars).quantity == Quantity::Energy_J);
  bars[3].left_out = true;
  CHECK(rank_bars(bars).quantity == Quantity::Strength_kJ_m2);
  bars[3].left_out = false;
  RankingOptions options;
  options.quantity = Quantity::Strength_kJ_m2;
  const Ranking forced = rank_bars(bars, options);
  CHECK(group_named(forced, "Korvel").n_no_value == 1);
  CHECK(has_remark(group_named(forced, "Korvel").remarks, "no-value"));
}

TEST_CASE("groups are told apart by condition and orientation, or not, as asked") {
  std::vector<Bar> bars;
  add_bars(bars, {"Korvel", "as-made", "flat"}, {2.0, 2.1});
  add_bars(bars, {"Korvel", "as-made", "upright"}, {1.0, 1.1});
  add_bars(bars, {"Korvel", "annealed", "flat"}, {3.0, 3.1});
  CHECK(rank_bars(bars).groups.size() == 3);
  CHECK(rank_bars(bars).groups.front().name == "Korvel / annealed / flat");
  RankingOptions options;
  options.by_orientation = false;
  CHECK(rank_bars(bars, options).groups.size() == 2);
  options.by_condition = false;
  const Ranking one = rank_bars(bars, options);
  REQUIRE(one.groups.size() == 1);
  CHECK(one.groups.front().name == "Korvel");
  CHECK(one.groups.front().bars == std::vector<std::size_t>{0, 1, 2, 3, 4, 5});
}

TEST_CASE("a single group has nothing to be ranked against") {
  std::vector<Bar> bars;
  add_bars(bars, {"Korvel"}, {2.0, 2.2, 2.1});
  const Ranking ranking = rank_bars(bars);
  CHECK(ranking.comparisons.empty());
  CHECK(ranking.groups.front().letters == "a");
  CHECK(*ranking.groups.front().p_best == 1.0);
  CHECK(ranking.verdict_sentences.front().find("One group only") != std::string::npos);
}

TEST_CASE("bars left out and bars without a value are listed and not counted") {
  std::vector<Bar> bars = three_groups();
  bars[0].left_out = true;
  bars[0].left_out_reason = "struck at a slant";
  bars[1].energy_J.reset();
  const Ranking ranking = rank_bars(bars);
  const GroupSummary& group = group_named(ranking, "Korvel");
  CHECK(group.bars.size() == 5);
  CHECK(group.n_exact == 3);
  CHECK(group.n_left_out == 1);
  CHECK(group.n_no_value == 1);
  CHECK(has_remark(group.remarks, "left-out"));
  CHECK(has_remark(group.remarks, "no-value"));
  CHECK(group.exact_bars == std::vector<std::size_t>{2, 3, 4});
}

TEST_CASE("all bars left out, or none given: no ranking, no fault") {
  std::vector<Bar> bars = three_groups();
  for (Bar& bar : bars) bar.left_out = true;
  const Ranking ranking = rank_bars(bars);
  REQUIRE(ranking.groups.size() == 3);
  for (const GroupSummary& group : ranking.groups) {
    CHECK(group.method == MeanMethod::None);
    CHECK(group.letters.empty());
    CHECK(group.rank_probability.empty());
  }
  CHECK(ranking.verdict_sentences.front() == "No group has a value.");
  CHECK(rank_bars({}).groups.empty());
  CHECK(rank_bars({}).verdict_sentences.empty());
}

TEST_CASE("an outlier is flagged and counted") {
  std::vector<Bar> bars;
  add_bars(bars, {"Korvel"}, {199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57});
  const GroupSummary group = rank_bars(bars).groups.front();
  CHECK(group.n_exact == 8);
  CHECK(has_remark(group.remarks, "outlier"));
  CHECK(group.grubbs->farthest == 7);
}

TEST_CASE("what all bars of a rig share is told apart from scatter") {
  std::vector<Bar> bars = three_groups();
  for (Bar& bar : bars) {
    bar.energy_J = *bar.energy_J * Uncertain::from(1.0, 0.05, "rig.moment", SourceKind::Shared);
  }
  const Ranking with = rank_bars(bars);
  const Ranking without = rank_bars(three_groups());
  const GroupSummary& group = with.groups.front();
  // 5 % of the mean 2.68, linear: rounding only.
  CHECK_THAT(group.u_shared, test::to_rounding(0.05 * 2.68, 8));
  CHECK(*group.interval.low == *without.groups.front().interval.low);
  CHECK(*group.interval_with_shared.low < *group.interval.low);
  for (std::size_t k = 0; k < with.comparisons.size(); ++k) {
    // The moment cannot turn an order round: the same p to the last digits.
    CHECK_THAT(*with.comparisons[k].p_value,
               test::to_rounding(*without.comparisons[k].p_value, 64));
  }
  for (std::size_t g = 0; g < 3; ++g) {
    CHECK_THAT(*with.groups[g].p_best,
               test::to_uncertainty(*without.groups[g].p_best, std::sqrt(0.25 / 20000.0)));
  }
}

TEST_CASE("two rigs with their own moments are less sure of an order than one rig") {
  std::vector<Bar> bars = three_groups();
  for (Bar& bar : bars) {
    bar.rig = bar.material == "Korvel" ? "east" : "west";
    bar.energy_J =
        *bar.energy_J * Uncertain::from(1.0, 0.3, "rig.moment " + bar.rig, SourceKind::Shared);
  }
  const Ranking ranking = rank_bars(bars);
  const Comparison& across = pair_of(ranking, "Korvel", "Tessan");
  CHECK(across.verdict != Verdict::Clear);
  CHECK(across.bars_words.find("no number of bars") != std::string::npos);
  CHECK(*ranking.groups.front().p_best < 0.999);
}

TEST_CASE("rigs that state nothing of their own are remarked") {
  std::vector<Bar> bars = three_groups();
  for (Bar& bar : bars) bar.rig = bar.material == "Korvel" ? "east" : "west";
  CHECK(has_remark(rank_bars(bars).remarks, "rigs-not-compared"));
  for (Bar& bar : bars) bar.rig = "east";
  CHECK_FALSE(has_remark(rank_bars(bars).remarks, "rigs-not-compared"));
}

TEST_CASE("groups that lie close are found equal within the margin") {
  std::vector<Bar> bars;
  add_bars(bars, {"Korvel"}, {2.00, 2.02, 1.99, 2.01, 2.00});
  add_bars(bars, {"Tessan"}, {2.01, 2.00, 1.98, 2.02, 2.01});
  const Comparison pair = rank_bars(bars).comparisons.front();
  CHECK(pair.equivalent);
  CHECK(pair.verdict == Verdict::NotResolved);
  RankingOptions narrow;
  narrow.equivalence_margin = 0.005;
  CHECK_FALSE(rank_bars(bars, narrow).comparisons.front().equivalent);
}

TEST_CASE("beside every verdict that is not clear stand the bars needed, or why none helps") {
  const Ranking ranking = rank_bars(three_groups());
  for (const Comparison& pair : ranking.comparisons) {
    CHECK((pair.verdict == Verdict::Clear) == pair.bars_words.empty());
  }
  const Comparison& close = pair_of(ranking, "Tessan", "Morrow");
  CHECK(close.verdict == Verdict::NotResolved);
  REQUIRE(close.bars_to_resolve.has_value());
  CHECK(*close.bars_to_resolve > 5);
}

TEST_CASE("the order of the bars given does not matter but for the order of equals") {
  std::vector<Bar> bars = three_groups();
  const Ranking forward = rank_bars(bars);
  std::reverse(bars.begin(), bars.end());
  const Ranking backward = rank_bars(bars);
  for (std::size_t g = 0; g < 3; ++g) {
    CHECK(forward.groups[g].name == backward.groups[g].name);
    // Sums in another order.
    CHECK_THAT(*forward.groups[g].mean, test::to_rounding(*backward.groups[g].mean, 8));
  }
}

TEST_CASE("rank_bars gives the same answer twice") {
  const Ranking a = rank_bars(three_groups());
  const Ranking b = rank_bars(three_groups());
  CHECK(a.verdict_sentences == b.verdict_sentences);
  for (std::size_t g = 0; g < a.groups.size(); ++g) {
    CHECK(a.groups[g].rank_probability == b.groups[g].rank_probability);
  }
}

TEST_CASE("chances of all ranks of a group, and of all groups for a rank, add up to one") {
  const Ranking ranking = rank_bars(three_groups());
  for (std::size_t r = 0; r < 3; ++r) {
    double by_group = 0.0;
    double by_rank = 0.0;
    for (std::size_t g = 0; g < 3; ++g) {
      by_group += ranking.groups[g].rank_probability[r];
      by_rank += ranking.groups[r].rank_probability[g];
    }
    // Whole counts over the draws: three divisions.
    CHECK_THAT(by_group, test::to_rounding(1.0, 4));
    CHECK_THAT(by_rank, test::to_rounding(1.0, 4));
  }
}

TEST_CASE("names that differ in capitals only are remarked") {
  std::vector<Bar> bars;
  add_bars(bars, {"Korvel"}, {2.0, 2.1});
  add_bars(bars, {"korvel"}, {2.0, 2.2});
  CHECK(has_remark(rank_bars(bars).remarks, "similar-names"));
}

TEST_CASE("options out of range are named") {
  const auto found = [](const RankingOptions& options) -> std::string {
    try {
      (void)rank_bars({}, options);
    } catch (const InputError& error) {
      return error.fault().place;
    }
    return "";
  };
  RankingOptions options;
  options.confidence = 1.0;
  CHECK(found(options) == "ranking option confidence");
  options = {};
  options.draws = 5;
  CHECK(found(options) == "ranking option draws");
  options = {};
  options.equivalence_margin = 0.0;
  CHECK(found(options) == "ranking option equivalence_margin");
  options = {};
  options.power = 1.5;
  CHECK(found(options) == "ranking option power");
  options = {};
  options.confidence = std::nan("");
  CHECK(found(options) == "ranking option confidence");
  CHECK(found({}).empty());
}

TEST_CASE("false clear verdicts among equal groups stay at or below 5 in 100 rankings") {
  // Four groups of one mean, four bars each, one of them censored: the chance that any pair of
  // a ranking is called clear. 600 rankings, deviation 0.009 at 0.05.
  RandomDraws draws(41);
  RankingOptions options;
  options.draws = 100;
  int false_clear = 0;
  const int worlds = 600;
  for (int world = 0; world < worlds; ++world) {
    std::vector<Bar> bars;
    for (const char* name : {"A", "B", "C", "D"}) {
      for (int i = 0; i < 4; ++i) {
        const double value = 10.0 + draws.normal();
        const bool held = name[0] == 'A' && value > 10.8;
        add_bars(
            bars, held ? test::unbroken({name}) : test::BarKind{name}, {held ? 10.8 : value});
      }
    }
    const Ranking ranking = rank_bars(bars, options);
    false_clear += std::any_of(ranking.comparisons.begin(),
                               ranking.comparisons.end(),
                               [](const Comparison& c) { return c.verdict == Verdict::Clear; })
                       ? 1
                       : 0;
  }
  CHECK(false_clear <= (0.05 + 2.0 * 0.009) * worlds);
}

TEST_CASE("an interval of an energy does not reach below zero, and nothing else is cut") {
  std::vector<Bar> bars;
  test::add_bars(bars, {"Wide"}, {1.0, 4.5});
  test::add_bars(bars, {"Narrow"}, {2.0, 2.1, 1.9});
  for (Bar& bar : bars) {
    bar.energy_J = *bar.energy_J + Uncertain::from(0.0, 0.05, "rig.moment", SourceKind::Shared);
  }
  const Ranking ranking = rank_bars(bars);
  const GroupSummary& wide = ranking.groups.front();
  REQUIRE(wide.name == "Wide");
  CHECK(*wide.interval.low == 0.0);
  CHECK(*wide.interval_with_shared.low == 0.0);
  // Student's t of one degree of freedom at 97.5 %, tan(0.475 pi), times s/sqrt(2) = 1.75.
  CHECK_THAT(*wide.interval.high,
             test::to_truncation(2.75 + 1.75 * std::tan(0.475 * kPi), 1e-6));
  CHECK(*ranking.groups.back().interval.low > 0.0);
  REQUIRE(ranking.comparisons.size() == 1);
  CHECK(*ranking.comparisons.front().difference_interval.low < -2.0);
}
