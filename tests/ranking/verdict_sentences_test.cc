// SPDX-License-Identifier: Apache-2.0
#include "ranking/verdict_sentences.h"

#include "bars.h"
#include "ranking/words.h"
#include "support/test.h"

using namespace swingloss;
using test::add_bars;

namespace {

/// All sentences in one text.
std::string story(const std::vector<Bar>& bars) {
  std::string text;
  for (const std::string& sentence : rank_bars(bars).verdict_sentences) text += sentence + "\n";
  return text;
}

bool says(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("a clear leader is named with its lead") {
  std::vector<Bar> bars;
  add_bars(bars, {"Korvel"}, {2.6, 2.8, 2.55, 2.7, 2.75});
  add_bars(bars, {"Tessan"}, {2.1, 2.3, 2.0, 2.25, 2.2});
  const std::string text = story(bars);
  CAPTURE(text);
  CHECK(says(text, "Korvel is the toughest, clearly ahead of every other."));
  CHECK(says(text, "Korvel: 2.680 J (2.551 to 2.809, 5 bars)."));
  CHECK(says(text, "Korvel is clearly tougher than Tessan, by +24 % (+15 % to +33 %)."));
}

TEST_CASE("an open order says so, with the bars it needs") {
  std::vector<Bar> bars;
  add_bars(bars, {"Korvel"}, {2.6, 2.0, 2.9});
  add_bars(bars, {"Tessan"}, {2.1, 2.6, 2.0});
  const std::string text = story(bars);
  CAPTURE(text);
  CHECK(says(text, "stands first, but is not clearly ahead of any other."));
  CHECK(says(text, "Korvel and Tessan: not resolved"));
  CHECK(says(text, "bars of each, if the true difference is as seen."));
}

TEST_CASE("groups found equal are said to be equal, not unresolved") {
  std::vector<Bar> bars;
  add_bars(bars, {"Korvel"}, {2.00, 2.02, 1.99, 2.01, 2.00});
  add_bars(bars, {"Tessan"}, {2.01, 2.00, 1.98, 2.02, 2.00});
  CHECK(says(story(bars), "lie within 10 % of one another"));
}

TEST_CASE("survivors, single bars, identical and absent values each have their words") {
  std::vector<Bar> bars;
  add_bars(bars, test::unbroken({"Veltan"}), {3.9, 3.9, 3.9, 3.9, 3.9});
  add_bars(bars, {"Morrow"}, {3.0, 3.2, 3.1});
  add_bars(bars, test::unbroken({"Morrow"}), {3.9});
  add_bars(bars, {"Solo"}, {2.0});
  add_bars(bars, {"Same"}, {1.0, 1.0});
  add_bars(bars, {"Gone"}, {1.0});
  bars.back().energy_J.reset();
  const std::string text = story(bars);
  CAPTURE(text);
  CHECK(says(text, "Veltan: all 5 bars held: above 3.90 J (confidence 97 %)."));
  CHECK(says(text, "4 bars, 1 of them known only as more than a limit)"));
  CHECK(says(text, "Solo: 2.00 J from one bar, whose scatter is not known."));
  CHECK(says(text, "Same: 1.00 J in both bars, no scatter to judge by."));
  CHECK(says(text, "Gone: no bar has a value."));
}

TEST_CASE("decimals follow the interval's width, without one the value's size") {
  CHECK(decimals_for(0.032) == 3);
  CHECK(decimals_for(3.2) == 1);
  CHECK(decimals_for(123.0) == 0);
  CHECK(decimals_for(0.0) == 0);
  GroupSummary group;
  group.mean = 20.0;
  CHECK(decimals_of(group) == 1);
  group.interval = {19.98, 20.02};
  CHECK(decimals_of(group) == 3);
  group.interval = {18.0, 22.0};
  CHECK(decimals_of(group) == 1);
  group.interval = {0.0, 80.0};
  CHECK(decimals_of(group) == 0);
  group.interval = {18.0, {}};
  CHECK(decimals_of(group) == 1);
  group.mean.reset();
  group.bound = 0.518;
  CHECK(decimals_of(group) == 3);
}

TEST_CASE("places are spelled as a range where the bars leave it open") {
  GroupSummary group;
  CHECK(places_words(group) == "–");
  group.rank_low = group.rank_high = 2;
  CHECK(places_words(group) == "2");
  group.rank_high = 4;
  CHECK(places_words(group) == "2–4");
}

TEST_CASE("a difference of two things at one time is told as one of both") {
  std::vector<Bar> bars;
  add_bars(bars, {"Korvel", "annealed"}, {2.6, 2.8, 2.55, 2.7, 2.75});
  add_bars(bars, {"Tessan", "as-made"}, {2.1, 2.3, 2.0, 2.25, 2.2});
  add_bars(bars, {"Tessan", "annealed"}, {1.1, 1.2, 1.15});
  const std::string text = story(bars);
  CAPTURE(text);
  CHECK(says(text, "than Tessan / as-made, by +24 % (+15 % to +33 %; material and condition"));
  CHECK(rank_bars(bars).comparisons.at(2).differ_in == std::vector<std::string>{"condition"});
}

TEST_CASE("numbers are spelled for people") {
  CHECK(value_words(24.123) == "24.1");
  CHECK(value_words(-0.03124) == "−0.0312");
  CHECK(change_words(0.154) == "+15 %");
  CHECK(change_words(-0.0321) == "−3.2 %");
  CHECK(change_words(0.0) == "0.0 %");
  CHECK(share_words(0.9996) == "above 99.9 %");
  CHECK(share_words(0.0001) == "below 0.1 %");
  CHECK(share_words(0.83) == "83 %");
  CHECK(share_words(0.994) == "99.4 %");
  CHECK(share_words(0.9903) == "99 %");
  CHECK(share_words(0.0097) == "1 %");
  CHECK(ratio_words(1.026) == "1.03");
  CHECK(ratio_words(12.68) == "12.7");
  CHECK(ratio_words(126.4) == "126");
  CHECK(p_words(0.0004) == "p < 0.001");
  CHECK(p_words(0.0131) == "p = 0.013");
  CHECK(p_words(0.571) == "p = 0.57");
  CHECK(list_words({"A"}) == "A");
  CHECK(list_words({"A", "B"}) == "A and B");
  CHECK(list_words({"A", "B", "C"}) == "A, B and C");
  CHECK(list_words({"A", "B", "C", "D", "E"}) == "A, B, C and 2 more");
  CHECK(bars_words(1) == "1 bar");
  CHECK(interval_words({1.0, std::nullopt}, value_words) == "above 1.00");
  CHECK(interval_words({}, value_words).empty());
}
