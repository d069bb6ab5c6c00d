// SPDX-License-Identifier: Apache-2.0
// Simulated worlds with known truth: how often the intervals of the ranking hold it, how often
// equal groups are called different, and how long a large ranking takes. Prints a table; exits
// 1 when a figure leaves its limits (intervals 93 to 97 %, false "clear" at most 5 %).
//
//   ranking_coverage [WORLDS]     2000 when left out; about 4000 a minute
#include "metrology/random_draws.h"
#include "ranking/ranking.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <string>
#include <vector>

using namespace swingloss;

namespace {

/// One group of a simulated world. Normal scatter, `cv` of the mean; values above `limit` are
/// bars that held.
struct WorldGroup {
  std::string name;
  double mean;
  double cv;
  int bars;
  double limit;
};

constexpr double kNoLimit = 1e9;

void add_group(const WorldGroup& group, RandomDraws& draws, std::vector<Bar>& bars) {
  for (int i = 0; i < group.bars; ++i) {
    const double value = group.mean * (1.0 + group.cv * draws.normal());
    const bool held = value > group.limit;
    Bar bar;
    bar.id = group.name + std::to_string(i + 1);
    bar.material = group.name;
    bar.break_type = held ? BreakType::NonBreak : BreakType::Complete;
    bar.limit = held ? Limit::Above : Limit::None;
    bar.energy_J = Uncertain::exact(held ? group.limit : value);
    bars.push_back(bar);
  }
}

/// What is counted over all worlds of one kind.
struct Tally {
  int mean_intervals = 0, means_held = 0;
  int difference_intervals = 0, differences_held = 0;
  int ratio_intervals = 0, ratios_held = 0;
  int with_false_clear = 0, with_wrong_clear = 0, worlds = 0;
};

bool holds(const Interval& interval, double truth) {
  return (!interval.low || *interval.low <= truth) &&
         (!interval.high || truth <= *interval.high);
}

double true_mean(const std::vector<WorldGroup>& groups, const std::string& name) {
  const auto found = std::find_if(
      groups.begin(), groups.end(), [&](const WorldGroup& g) { return g.name == name; });
  return found->mean;
}

void count_means(const Ranking& ranking, const std::vector<WorldGroup>& groups, Tally& tally) {
  for (const GroupSummary& group : ranking.groups) {
    if (!group.interval.low && !group.interval.high) continue;
    ++tally.mean_intervals;
    tally.means_held += holds(group.interval, true_mean(groups, group.name)) ? 1 : 0;
  }
}

void count_pairs(const Ranking& ranking, const std::vector<WorldGroup>& groups, Tally& tally) {
  bool false_clear = false;
  bool wrong_clear = false;
  for (const Comparison& pair : ranking.comparisons) {
    const double first = true_mean(groups, ranking.groups[pair.first].name);
    const double second = true_mean(groups, ranking.groups[pair.second].name);
    const bool clear = pair.verdict == Verdict::Clear;
    false_clear = false_clear || (clear && first == second);
    wrong_clear = wrong_clear || (clear && first < second);
    if (pair.difference_interval.low || pair.difference_interval.high) {
      ++tally.difference_intervals;
      tally.differences_held += holds(pair.difference_interval, first - second) ? 1 : 0;
    }
    if (pair.ratio_interval.low || pair.ratio_interval.high) {
      ++tally.ratio_intervals;
      tally.ratios_held += holds(pair.ratio_interval, first / second) ? 1 : 0;
    }
  }
  tally.with_false_clear += false_clear ? 1 : 0;
  tally.with_wrong_clear += wrong_clear ? 1 : 0;
}

Tally simulate(const std::vector<WorldGroup>& groups, int worlds, std::uint64_t seed) {
  RandomDraws draws(seed);
  RankingOptions options;
  options.draws = 100;
  Tally tally;
  for (; tally.worlds < worlds; ++tally.worlds) {
    std::vector<Bar> bars;
    for (const WorldGroup& group : groups) add_group(group, draws, bars);
    const Ranking ranking = rank_bars(bars, options);
    count_means(ranking, groups, tally);
    count_pairs(ranking, groups, tally);
  }
  return tally;
}

double percent(int part, int whole) { return whole == 0 ? 0.0 : 100.0 * part / whole; }

/// Prints a line; true when all figures are within their limits and four deviations of the
/// simulation itself.
bool report(const char* what, const Tally& tally) {
  const double means = percent(tally.means_held, tally.mean_intervals);
  const double differences = percent(tally.differences_held, tally.difference_intervals);
  const double ratios = percent(tally.ratios_held, tally.ratio_intervals);
  const double false_clear = percent(tally.with_false_clear, tally.worlds);
  const double wrong_clear = percent(tally.with_wrong_clear, tally.worlds);
  std::printf("%-46s %7.2f %7.2f %7.2f %7.2f %7.2f\n",
              what,
              means,
              differences,
              ratios,
              false_clear,
              wrong_clear);
  const double slack = 400.0 * std::sqrt(0.05 * 0.95 / tally.worlds);
  const auto within = [&](double figure) {
    return figure >= 93.0 - slack && figure <= 97.0 + slack;
  };
  return within(means) && within(differences) && within(ratios) && false_clear <= 5.0 + slack &&
         wrong_clear <= 2.5 + slack;
}

void time_large_ranking() {
  RandomDraws draws(5);
  std::vector<Bar> bars;
  for (int g = 0; g < 200; ++g) {
    add_group({"M" + std::to_string(g), 2.0 + 0.01 * g, 0.05, 20, kNoLimit}, draws, bars);
  }
  RankingOptions options;
  options.draws = 100000;
  const std::clock_t start = std::clock();
  const Ranking ranking = rank_bars(bars, options);
  const double time_s = static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
  std::printf("%zu groups x 20 bars, 100000 draws: %.2f s of processor time\n",
              ranking.groups.size(),
              time_s);
}

}  // namespace

int main(int argc, char** argv) {
  const int worlds = argc > 1 ? std::max(100, std::atoi(argv[1])) : 2000;
  struct Kind {
    const char* what;
    std::vector<WorldGroup> groups;
  };
  const std::vector<Kind> kinds{
      {"4 equal groups, 5 bars, 10 %",
       {{"A", 10, 0.1, 5, kNoLimit},
        {"B", 10, 0.1, 5, kNoLimit},
        {"C", 10, 0.1, 5, kNoLimit},
        {"D", 10, 0.1, 5, kNoLimit}}},
      {"4 equal groups, 3 bars, 10 %",
       {{"A", 10, 0.1, 3, kNoLimit},
        {"B", 10, 0.1, 3, kNoLimit},
        {"C", 10, 0.1, 3, kNoLimit},
        {"D", 10, 0.1, 3, kNoLimit}}},
      {"equal means, scatters 5, 10, 20, 30 %; 4 to 10 bars",
       {{"A", 10, 0.05, 10, kNoLimit},
        {"B", 10, 0.1, 4, kNoLimit},
        {"C", 10, 0.2, 5, kNoLimit},
        {"D", 10, 0.3, 6, kNoLimit}}},
      {"equal, 5 bars, 3 in 10 of two groups held",
       {{"A", 10, 0.1, 5, 10.5244},
        {"B", 10, 0.1, 5, 10.5244},
        {"C", 10, 0.1, 5, kNoLimit},
        {"D", 10, 0.1, 5, kNoLimit}}},
      {"equal, 8 bars, half of one group held",
       {{"A", 10, 0.1, 8, 10.0}, {"B", 10, 0.1, 8, kNoLimit}, {"C", 10, 0.1, 8, kNoLimit}}},
      {"unequal: 10, 11, 12, 13; 5 bars, 10 %",
       {{"A", 10, 0.1, 5, kNoLimit},
        {"B", 11, 0.1, 5, kNoLimit},
        {"C", 12, 0.1, 5, kNoLimit},
        {"D", 13, 0.1, 5, kNoLimit}}},
      {"unequal, the toughest half held; 6 bars",
       {{"A", 10, 0.1, 6, kNoLimit}, {"B", 11, 0.1, 6, kNoLimit}, {"C", 13, 0.1, 6, 13.0}}},
  };
  std::printf("%d worlds each, per cent\n%-46s %7s %7s %7s %7s %7s\n",
              worlds,
              "",
              "mean",
              "differ.",
              "ratio",
              "false",
              "wrong");
  bool good = true;
  for (std::size_t k = 0; k < kinds.size(); ++k) {
    good = report(kinds[k].what, simulate(kinds[k].groups, worlds, 100 + k)) && good;
  }
  time_large_ranking();
  return good ? 0 : 1;
}
