// SPDX-License-Identifier: Apache-2.0
#include "bars.h"
#include "ranking/ranking.h"
#include "reference_data.h"
#include "support/test.h"

#include <string>
#include <vector>

using namespace swingloss;
using test::add_bars;
using test::pair_of;

namespace {

std::vector<Bar> bars_of(const std::vector<test::NamedValues>& groups) {
  std::vector<Bar> bars;
  for (const test::NamedValues& group : groups) add_bars(bars, {group.name}, group.values);
  return bars;
}

}  // namespace

TEST_CASE("rank_bars gives R's pairwise Welch tests with Holm", "[truth]") {
  // R 4.2.2 pairwise.t.test(y, g, p.adjust.method = "holm", pool.sd = FALSE).
  struct PairP {
    const char* a;
    const char* b;
    double p;
  };
  struct Case {
    const char* name;
    std::vector<test::NamedValues> groups;
    std::vector<PairP> pairs;
  };
  for (const Case& set : {Case{"PlantGrowth",
                               test::plant_growth(),
                               {{"ctrl", "trt1", 0.250382508587548},
                                {"ctrl", "trt2", 0.0957985112039386},
                                {"trt1", "trt2", 0.0278952141518095}}},
                          Case{"InsectSprays",
                               test::insect_sprays(),
                               {{"A", "B", 1},
                                {"A", "C", 6.8620195072016e-06},
                                {"B", "C", 7.755792547395e-07},
                                {"A", "D", 8.5950013598357e-05},
                                {"B", "D", 1.16927115240713e-05},
                                {"C", "D", 0.0343784074635},
                                {"A", "E", 2.92000303517956e-05},
                                {"B", "E", 4.11643201939431e-06},
                                {"C", "E", 0.376817588071194},
                                {"D", "E", 0.491674964050416},
                                {"A", "F", 1},
                                {"B", "F", 1},
                                {"C", "F", 2.92000303517956e-05},
                                {"D", "F", 0.000172897767010391},
                                {"E", "F", 8.5950013598357e-05}}},
                          Case{"chickwts",
                               test::chick_weights(),
                               {{"horsebean", "linseed", 0.0480834448808678},
                                {"horsebean", "soybean", 0.00171452062558101},
                                {"linseed", "soybean", 0.593961398598562},
                                {"horsebean", "sunflower", 2.53558294673017e-07},
                                {"linseed", "sunflower", 0.000308633500236638},
                                {"soybean", "sunflower", 0.00385882444250251},
                                {"horsebean", "meatmeal", 0.00126461112972405},
                                {"linseed", "meatmeal", 0.175988637604956},
                                {"soybean", "meatmeal", 0.593961398598562},
                                {"sunflower", "meatmeal", 0.222073082409613},
                                {"horsebean", "casein", 1.00943494136678e-05},
                                {"linseed", "casein", 0.00260621659714802},
                                {"soybean", "casein", 0.0281701076177998},
                                {"sunflower", "casein", 0.821511771366324},
                                {"meatmeal", "casein", 0.394648862337103}}},
                          Case{"warpbreaks",
                               test::warp_breaks(),
                               {{"L", "M", 0.0650496265473391},
                                {"L", "H", 0.00698038331329351},
                                {"M", "H", 0.114557102318147}}},
                          Case{"morley",
                               test::morley(),
                               {{"1", "2", 0.42140347523453},
                                {"1", "3", 0.289259341174007},
                                {"2", "3", 1},
                                {"1", "4", 0.0265885355429155},
                                {"2", "4", 0.430573506068039},
                                {"3", "4", 1},
                                {"1", "5", 0.0588398101978704},
                                {"2", "5", 0.940779163233276},
                                {"3", "5", 1},
                                {"4", "5", 1}}},
                          Case{"charpy_splett2",
                               test::four_machines(),
                               {{"M1", "M2", 0.0655946241908305},
                                {"M1", "M3", 1.21291417406024e-08},
                                {"M2", "M3", 3.26012037262528e-05},
                                {"M1", "M4", 0.586871559357319},
                                {"M2", "M4", 0.122117026474324},
                                {"M3", "M4", 2.41733100339693e-08}}}}) {
    CAPTURE(set.name);
    const Ranking ranking = rank_bars(bars_of(set.groups));
    REQUIRE(ranking.comparisons.size() == set.pairs.size());
    for (const PairP& wanted : set.pairs) {
      CAPTURE(wanted.a, wanted.b);
      const Comparison& pair = pair_of(ranking, wanted.a, wanted.b);
      CHECK_THAT(*pair.p_holm, test::to_printed_digits(wanted.p, 9));
      CHECK((pair.verdict == Verdict::Clear) == (wanted.p <= 0.05));
    }
  }
}

TEST_CASE("rank_bars orders the four impact machines and gives their letters", "[truth]") {
  // NIST SPLETT2.DAT: means 72.576, 69.208, 67.98, 67.6333, sd 2.396, 2.370, 2.151, 2.278
  // (R 4.2.2); letters of Holm's tests above: machine 3 apart, the others together.
  const Ranking ranking = rank_bars(bars_of(test::four_machines()));
  REQUIRE(ranking.groups.size() == 4);
  const std::vector<std::string> order{"M3", "M2", "M4", "M1"};
  const std::vector<double> means{72.576, 69.208, 67.98, 67.6333333333333};
  const std::vector<double> deviations{
      2.39640007789462, 2.36958505509579, 2.15116247642989, 2.2783797955463};
  const std::vector<std::string> letters{"a", "b", "b", "b"};
  for (std::size_t g = 0; g < 4; ++g) {
    CHECK(ranking.groups[g].name == order[g]);
    CHECK_THAT(*ranking.groups[g].mean, test::to_printed_digits(means[g], 14));
    CHECK_THAT(*ranking.groups[g].s, test::to_printed_digits(deviations[g], 13));
    CHECK(ranking.groups[g].letters == letters[g]);
  }
  CHECK(*ranking.groups[0].p_best > 0.999);
  REQUIRE(ranking.overall.has_value());
  CHECK_THAT(ranking.overall->p_value, test::to_printed_digits(1.72149464637185e-9, 9));
}
