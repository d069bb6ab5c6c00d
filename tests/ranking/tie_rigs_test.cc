// SPDX-License-Identifier: Apache-2.0
#include "ranking/tie_rigs.h"

#include "bars.h"
#include "metrology/random_draws.h"
#include "support/test.h"

#include <algorithm>
#include <cmath>

using namespace swingloss;
using test::add_bars;
using test::has_remark;

namespace {

/// A world in which rig west reads `factor` of what rig east reads.
std::vector<Bar> two_rigs(double factor) {
  std::vector<Bar> bars;
  add_bars(bars, {"Norm", "", "", "east"}, {2.0, 2.1, 1.9, 2.05, 1.95});
  add_bars(bars, {"Korvel", "", "", "east"}, {3.0, 3.1, 2.9});
  std::vector<double> west_norm{2.0, 2.1, 1.9};
  std::vector<double> west_tessan{2.6, 2.7, 2.5};
  for (double& value : west_norm) value *= factor;
  for (double& value : west_tessan) value *= factor;
  add_bars(bars, {"Norm", "", "", "west"}, west_norm);
  add_bars(bars, {"Tessan", "", "", "west"}, west_tessan);
  return bars;
}

void give_moments(std::vector<Bar>& bars, double relative_u) {
  for (Bar& bar : bars) {
    bar.energy_J =
        *bar.energy_J *
        Uncertain::from(1.0, relative_u, "rig.moment " + bar.rig, SourceKind::Shared);
  }
}

}  // namespace

TEST_CASE("a tie brings a rig that reads high back to the base rig's scale") {
  const TiedBars tied = tie_rigs(two_rigs(1.1), Quantity::Energy_J, "Norm");
  REQUIRE(tied.ties.size() == 1);
  const RigTie& tie = tied.ties.front();
  CHECK(tie.rig == "west");
  CHECK(tie.base_rig == "east");
  CHECK(tie.n == 3);
  CHECK(tie.n_base == 5);
  // Both reference means are 2.0 but for the factor: sums and one division.
  CHECK_THAT(tie.factor, test::to_rounding(1.0 / 1.1, 16));
  CHECK_THAT(tied.bars.back().energy_J->value(), test::to_rounding(2.5, 16));
  CHECK(tied.bars.front().energy_J->value() == 2.0);
  // s^2/n of each reference, relative: 0.00625/5 on east, 0.01/3 on west, mean 2.0.
  const double u = std::sqrt((0.00625 / 5.0 + 0.01 / 3.0) / 4.0) / 1.1;
  CHECK_THAT(tie.u_factor, test::to_rounding(u, 32));
  CHECK_THAT(tied.bars.back().energy_J->u(SourceKind::Shared),
             test::to_rounding(2.5 * u * 1.1, 32));
}

TEST_CASE("the tied rig's own moment cancels and the base rig's takes its place") {
  std::vector<Bar> bars = two_rigs(1.1);
  give_moments(bars, 0.05);
  const TiedBars tied = tie_rigs(bars, Quantity::Energy_J, "Norm");
  std::vector<std::string> sources;
  for (const Contribution& part : tied.bars.back().energy_J->parts()) {
    sources.push_back(part.source);
  }
  CHECK(sources == std::vector<std::string>{"rig.moment east", "tie west"});
}

TEST_CASE("reference bars of the tied rig are left out, those of the base rig ranked") {
  RankingOptions options;
  options.reference_material = "Norm";
  const Ranking ranking = rank_bars(two_rigs(1.1), options);
  const GroupSummary& reference = test::group_named(ranking, "Norm");
  CHECK(reference.n_exact == 5);
  CHECK(reference.n_left_out == 3);
  CHECK(ranking.ties.size() == 1);
  CHECK(ranking.groups[0].name == "Korvel");
  CHECK(ranking.groups[1].name == "Tessan");
}

TEST_CASE("rigs that say nothing of themselves are warned of until they are tied") {
  RankingOptions options;
  CHECK(has_remark(rank_bars(two_rigs(1.1), options).remarks, "rigs-not-compared"));
  options.reference_material = "Norm";
  const Ranking tied = rank_bars(two_rigs(1.1), options);
  CHECK_FALSE(has_remark(tied.remarks, "rigs-not-compared"));
  // Tied, the two count as one instrument; untied, they are a second thing that differs.
  const auto things = [](const Ranking& ranking) {
    return test::pair_of(ranking, "Korvel", "Tessan").differ_in;
  };
  CHECK(things(tied) == std::vector<std::string>{"material"});
  options.reference_material = "";
  CHECK(things(rank_bars(two_rigs(1.1), options)) ==
        std::vector<std::string>{"material", "instrument"});
}

TEST_CASE(
    "a tie is surer than two moments when the reference scatters less than they are known") {
  std::vector<Bar> bars = two_rigs(1.0);
  give_moments(bars, 0.10);
  RankingOptions options;
  const double apart = test::pair_of(rank_bars(bars, options), "Korvel", "Tessan")
                           .difference_interval.low.value();
  options.reference_material = "Norm";
  const double tied = test::pair_of(rank_bars(bars, options), "Korvel", "Tessan")
                          .difference_interval.low.value();
  CHECK(tied > apart);
}

TEST_CASE("without a shared reference the rigs are left as they are, and it is said") {
  std::vector<Bar> bars = two_rigs(1.1);
  bars.erase(
      std::remove_if(bars.begin(),
                     bars.end(),
                     [](const Bar& b) { return b.rig == "west" && b.material == "Norm"; }),
      bars.end());
  const TiedBars tied = tie_rigs(bars, Quantity::Energy_J, "Norm");
  CHECK(tied.ties.empty());
  CHECK(has_remark(tied.remarks, "rig-not-tied"));
  CHECK(has_remark(tie_rigs(bars, Quantity::Energy_J, "Nothing").remarks, "no-reference"));
}

TEST_CASE("the interval across a tie covers the true difference in 93 to 97 of 100 worlds") {
  // East reads right, west 7 % high; five reference bars on each, five bars of each material.
  // True difference 2.0. 1500 worlds: deviation 0.0056.
  RandomDraws draws(51);
  RankingOptions options;
  options.reference_material = "Norm";
  options.draws = 100;
  int covered = 0;
  const int worlds = 1500;
  const auto five = [&](double mean, double factor) {
    std::vector<double> values(5);
    for (double& value : values) value = factor * (mean + 0.04 * mean * draws.normal());
    return values;
  };
  for (int world = 0; world < worlds; ++world) {
    std::vector<Bar> bars;
    add_bars(bars, {"Norm", "", "", "east"}, five(8.0, 1.0));
    add_bars(bars, {"Korvel", "", "", "east"}, five(12.0, 1.0));
    add_bars(bars, {"Norm", "", "", "west"}, five(8.0, 1.07));
    add_bars(bars, {"Tessan", "", "", "west"}, five(10.0, 1.07));
    const Ranking ranking = rank_bars(bars, options);
    const Comparison& pair = test::pair_of(ranking, "Korvel", "Tessan");
    const double sign = pair.difference.value() > 0.0 ? 1.0 : -1.0;
    covered += *pair.difference_interval.low <= sign * 2.0 &&
                       sign * 2.0 <= *pair.difference_interval.high
                   ? 1
                   : 0;
  }
  CHECK(covered > (0.93 - 2.0 * 0.0056) * worlds);
  CHECK(covered < (0.97 + 2.0 * 0.0056) * worlds);
}
