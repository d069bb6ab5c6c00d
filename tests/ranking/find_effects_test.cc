// SPDX-License-Identifier: Apache-2.0
#include "bars.h"
#include "metrology/random_draws.h"
#include "ranking/ratio.h"
#include "ranking/sample.h"
#include "support/test.h"

#include <cmath>

using namespace swingloss;
using test::add_bars;

namespace {

std::vector<Bar> annealed_or_not() {
  std::vector<Bar> bars;
  add_bars(bars, {"Korvel", "as-made"}, {2.1, 2.3, 2.0, 2.25, 2.2});
  add_bars(bars, {"Korvel", "annealed"}, {2.6, 2.8, 2.55, 2.7, 2.75});
  add_bars(bars, {"Tessan", "as-made"}, {1.5, 1.62, 1.41, 1.55});
  add_bars(bars, {"Tessan", "annealed"}, {1.3, 1.4, 1.28, 1.35});
  return bars;
}

const FactorEffect& effect_in(const Ranking& ranking, const std::string& setting) {
  for (const FactorEffect& effect : ranking.effects) {
    if (effect.setting == setting) return effect;
  }
  throw std::logic_error("no effect in " + setting);
}

EstimatedMean estimate(const std::vector<double>& values) {
  const Sample sample = summarise(values);
  return {sample.mean, sample.mean_variance(), sample.n - 1.0};
}

}  // namespace

TEST_CASE("the effect of a condition is the ratio to as-made, less one") {
  const Ranking ranking = rank_bars(annealed_or_not());
  REQUIRE(ranking.effects.size() == 2);
  const FactorEffect& up = effect_in(ranking, "Korvel");
  CHECK(up.level == "annealed");
  CHECK(up.base == "as-made");
  // Means of five, one division, less 1: each rounding counts about five times.
  CHECK_THAT(*up.change, test::to_rounding(2.68 / 2.17 - 1.0, 32));
  const auto fieller = fieller_ratio(
      estimate({2.6, 2.8, 2.55, 2.7, 2.75}), estimate({2.1, 2.3, 2.0, 2.25, 2.2}), 0.95);
  // The same function on the same numbers, less one.
  CHECK_THAT(*up.change_interval.low, test::to_rounding(*fieller->interval.low - 1.0, 64));
  CHECK_THAT(*up.change_interval.high, test::to_rounding(*fieller->interval.high - 1.0, 64));
  CHECK(up.verdict == Verdict::Clear);
}

TEST_CASE("an effect downward is negative, its interval the right way round") {
  const FactorEffect down = effect_in(rank_bars(annealed_or_not()), "Tessan");
  CHECK(*down.change < 0.0);
  CHECK(*down.change_interval.low < *down.change);
  CHECK(*down.change < *down.change_interval.high);
  // Fieller's interval of the inverse ratio is the inverse interval, but for the degrees of
  // freedom, which stay those of the pair as ranked: here equal to four digits.
  const auto fieller =
      fieller_ratio(estimate({1.3, 1.4, 1.28, 1.35}), estimate({1.5, 1.62, 1.41, 1.55}), 0.95);
  CHECK_THAT(*down.change_interval.low,
             test::to_truncation(*fieller->interval.low - 1.0, 1e-4));
}

TEST_CASE("whether an effect differs between materials is asked of the ratios") {
  const Ranking ranking = rank_bars(annealed_or_not());
  REQUIRE(ranking.effect_contrasts.size() == 1);
  const EffectContrast& contrast = ranking.effect_contrasts.front();
  CHECK(contrast.level == "annealed");
  CHECK(contrast.effects == std::vector<std::size_t>{0, 1});
  CHECK(contrast.differs);
  // Tessan made to answer as Korvel does.
  std::vector<Bar> alike = annealed_or_not();
  for (std::size_t i = 14; i < alike.size(); ++i) {
    alike[i].energy_J = Uncertain::exact(alike[i].energy_J->value() * 1.4);
  }
  CHECK_FALSE(rank_bars(alike).effect_contrasts.front().differs);
}

TEST_CASE("the base level is the one asked for, as-made, or the first") {
  std::vector<Bar> bars = annealed_or_not();
  RankingOptions options;
  options.base_condition = "annealed";
  CHECK(effect_in(rank_bars(bars, options), "Korvel").level == "as-made");
  for (Bar& bar : bars) {
    bar.condition = bar.condition == "as-made" ? "dry" : "wet";
  }
  CHECK(effect_in(rank_bars(bars), "Korvel").base == "dry");
}

TEST_CASE("orientation is a factor too, within the same condition") {
  std::vector<Bar> bars;
  add_bars(bars, {"Korvel", "as-made", "flat"}, {4.0, 4.2, 3.9});
  add_bars(bars, {"Korvel", "as-made", "upright"}, {1.0, 1.2, 1.1});
  const Ranking ranking = rank_bars(bars);
  REQUIRE(ranking.effects.size() == 1);
  CHECK(ranking.effects.front().factor == Factor::Orientation);
  CHECK(ranking.effects.front().setting == "Korvel / as-made");
  CHECK(ranking.effects.front().base == "flat");
  CHECK(*ranking.effects.front().change < -0.6);
  CHECK(ranking.effect_sentences.front().find("−73 %") != std::string::npos);
}

TEST_CASE("an effect on a group that never broke has a lower end only") {
  std::vector<Bar> bars;
  add_bars(bars, {"Korvel", "as-made"}, {2.1, 2.3, 2.0, 2.25, 2.2});
  add_bars(bars, test::unbroken({"Korvel", "annealed"}), {3.9, 3.9, 3.9, 3.9, 3.9});
  const FactorEffect effect = rank_bars(bars).effects.front();
  CHECK_FALSE(effect.change.has_value());
  CHECK(*effect.change_interval.low > 0.0);
  CHECK_FALSE(effect.change_interval.high.has_value());
  CHECK(effect.verdict == Verdict::Clear);
}

TEST_CASE("equal effects are called different in 5 of 100 worlds") {
  // Three materials, +20 % in each, five bars a group: 1500 worlds, deviation 0.0056.
  RandomDraws draws(61);
  RankingOptions options;
  options.draws = 100;
  int called = 0;
  const int worlds = 1500;
  for (int world = 0; world < worlds; ++world) {
    std::vector<Bar> bars;
    for (const auto& [name, mean] : {std::pair{"A", 10.0}, {"B", 20.0}, {"C", 5.0}}) {
      for (const auto& [condition, factor] : {std::pair{"as-made", 1.0}, {"annealed", 1.2}}) {
        std::vector<double> values(5);
        for (double& value : values) value = mean * factor * (1.0 + 0.05 * draws.normal());
        add_bars(bars, {name, condition}, values);
      }
    }
    called += rank_bars(bars, options).effect_contrasts.front().differs ? 1 : 0;
  }
  CHECK_THAT(called / static_cast<double>(worlds), test::to_uncertainty(0.05, 0.0056));
}
