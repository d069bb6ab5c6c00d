// SPDX-License-Identifier: Apache-2.0
// What the page does against being read wrongly.
#include "report/chart_texts.h"
#include "report/html_check.h"
#include "report/invented_series.h"
#include "report/page.h"
#include "report/words.h"
#include "series/table_input.h"
#include "support/temp_folder.h"
#include "support/test.h"

namespace swingloss {
namespace {

using Catch::Contains;

/// A page of a table, without its pictures.
std::string page_of(const SeriesResult& series) {
  PagePictures pictures;
  pictures.ranking_wide = pictures.ranking_narrow = "<svg viewBox=\"0 0 1 1\"></svg>";
  pictures.bars.resize(series.bars.size());
  return report_page(series, pictures);
}

SeriesResult ranked(const std::string& rows) {
  const test::TempFolder folder;
  return rank_table(
      folder.write("values.csv", "id,material,condition,energy_J,limit,break_type\n" + rows));
}

/// Two that no three bars tell apart, one far below, and bars of the first that held.
SeriesResult open_order() {
  return ranked(
      "A1,Korvel,dried,2.00,,C\nA2,Korvel,dried,2.20,,C\nA3,Korvel,dried,2.10,,C\n"
      "A4,Korvel,dried,2.30,>,N\nB1,Morna,dried,2.05,,C\nB2,Morna,dried,2.25,,C\n"
      "B3,Morna,dried,2.10,,C\nC1,Tessan,as-made,1.0,,P\nC2,Tessan,as-made,1.1,,P\n"
      "C3,Tessan,as-made,1.05,,P\n");
}

}  // namespace

TEST_CASE("an open order is shown as a range of places and never as a number alone",
          "[report]") {
  const SeriesResult series = open_order();
  const Ranking& ranking = *series.ranking;
  REQUIRE(ranking.comparisons[0].verdict == Verdict::NotResolved);
  CHECK(places_words(ranking.groups[0]) == "1–2");
  CHECK(places_words(ranking.groups[1]) == "1–2");
  CHECK(places_words(ranking.groups[2]) == "3");
  const std::string page = page_of(series);
  CHECK_THAT(page,
             Contains("Places, 95") && Contains(">1–2<") &&
                 Contains("although one stands above the other"));
  CHECK_THAT(page, !Contains(">Tougher<") && Contains(">Ahead<"));
  CHECK_THAT(summary_line(series), Contains("1–2: Korvel") && Contains("1–2: Morna"));
}

TEST_CASE("a mean with bars that held says that it is no average", "[report]") {
  const SeriesResult series = open_order();
  CHECK_THAT(page_of(series), Contains("<span class=\"second\">most likely</span>"));
  const SeriesResult held = ranked(
      "A1,Korvel,dried,2.0,>,N\nA2,Korvel,dried,2.0,>,N\nA3,Korvel,dried,2.0,>,N\n"
      "B1,Morna,dried,1.0,,C\nB2,Morna,dried,1.1,,C\n");
  // All of three above 2.0: the median is with a confidence of 1 - 1/2^3.
  CHECK_THAT(page_of(held),
             Contains("&gt;\u00A02.00</strong><span class=\"second\">88\u00A0% sure</span>"));
}

TEST_CASE("a difference of several things at one time names them", "[report]") {
  const SeriesResult series = open_order();
  const std::vector<std::string> mixed = {"material", "condition", "kind of break"};
  CHECK(series.ranking->comparisons[1].differ_in == mixed);
  CHECK(series.ranking->comparisons[0].differ_in == std::vector<std::string>{"material"});
  const std::string page = page_of(series);
  const std::string words =
      "<span class=\"second mixed\">material, condition and kind of break differ</span>";
  CHECK_THAT(page, Contains(words) && Contains("of all of them together"));
}

TEST_CASE("one number is spelled alike in tables, sentences and summary", "[report]") {
  const SeriesResult series = open_order();
  const std::string page = page_of(series);
  for (const GroupSummary& group : series.ranking->groups) {
    const std::string mean = mean_or_bound_words(group);
    const std::string interval = interval_words(group.interval, decimals_of(group));
    CAPTURE(group.name, mean, interval);
    CHECK_THAT(page,
               Contains("<strong>" + mean + "</strong>") && Contains(">" + interval + "<") &&
                   Contains(group.name + ": " + mean + "\u00A0J (" + interval));
    CHECK_THAT(summary_line(series), Contains(group.name + ", " + mean + " (" + interval));
  }
}

TEST_CASE("a rig without a latch is checked at the release that its clips show", "[report]") {
  SeriesResult series = test::invented_series();
  CHECK_THAT(page_of(series), Contains("Release angle, 16 clips"));
  series.rigs[0].pendulum.release_angle_rad.reset();
  const std::string page = page_of(series);
  CHECK_THAT(page, !Contains("release_angle_deg or a clip"));
  // 2.21 N m from 124.6 degrees: 2.21 (1 - cos 124.6) = 3.465 J.
  CHECK_THAT(page, Contains("energy of the release") && Contains(">3.46"));
  for (BarResult& bar : series.bars) bar.swing.reset();
  CHECK_THAT(page_of(series), Contains("release_angle_deg or a clip"));
}

}  // namespace swingloss
