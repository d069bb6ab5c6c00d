// SPDX-License-Identifier: Apache-2.0
#include "ranking/outliers.h"
#include "report/detail_charts.h"
#include "report/effect_chart.h"
#include "report/html_check.h"
#include "report/inline_svg.h"
#include "report/invented_series.h"
#include "report/ranking_chart.h"
#include "report/run_gnuplot.h"
#include "report/svg_marks.h"
#include "report/swing_chart.h"
#include "support/test.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

using test::Mark;
using test::marks;

const Canvas kFile{CanvasKind::SvgFile, 1200, 700, 18.0, false};

std::string ranking_svg(const SeriesResult& series, const Canvas& canvas = kFile) {
  return run_gnuplot(ranking_chart_script(series, canvas));
}

std::vector<double> exact_values(const SeriesResult& series) {
  std::vector<double> values;
  for (const GroupSummary& group : series.ranking->groups) {
    for (const std::size_t i : group.bars) {
      const Bar& bar = series.bars[i].bar;
      if (bar.strength_kJ_m2 && bar.limit == Limit::None && !bar.left_out)
        values.push_back(bar.strength_kJ_m2->value());
    }
  }
  return values;
}

}  // namespace

TEST_CASE("the ranking chart draws every bar: counted, censored and left out", "[report]") {
  const SeriesResult series = test::invented_series();
  const std::string svg = ranking_svg(series);
  CHECK(marks(svg, "gpPt6").size() == exact_values(series).size());
  CHECK(marks(svg, "gpPt5").size() == 1);  // the bar that did not break
  CHECK(marks(svg, "gpPt1").size() == 1);  // the bar that was left out
  // 20 bars in all, one of them without a value.
  CHECK(exact_values(series).size() + 2 == 19);
}

TEST_CASE("the ranking chart has the narrow layout draw the same bars", "[report]") {
  const SeriesResult series = test::invented_series();
  const std::string svg = ranking_svg(series, ranking_page_canvas(5, true));
  CHECK(marks(svg, "gpPt6").size() == exact_values(series).size());
}

TEST_CASE("points of the ranking chart stand where their values are", "[report]") {
  const SeriesResult series = test::invented_series();
  const std::vector<Mark> drawn = marks(ranking_svg(series), "gpPt6");
  const std::vector<double> values = exact_values(series);
  REQUIRE(drawn.size() == values.size());
  const auto [low, high] = std::minmax_element(values.begin(), values.end());
  const Mark& first = drawn[static_cast<std::size_t>(low - values.begin())];
  const Mark& last = drawn[static_cast<std::size_t>(high - values.begin())];
  const double px_per_unit = (last.x_px - first.x_px) / (*high - *low);
  for (std::size_t i = 0; i < values.size(); ++i) {
    // gnuplot prints hundredths of a pixel: half of one here, and half at each end of the
    // scale.
    CHECK_THAT(drawn[i].x_px,
               test::to_truncation(first.x_px + px_per_unit * (values[i] - *low), 0.011));
  }
}

TEST_CASE("the toughest group is drawn on top", "[report]") {
  const SeriesResult series = test::invented_series();
  const std::vector<Mark> drawn = marks(ranking_svg(series), "gpPt6");
  // Marks are drawn group by group, toughest first; y grows downward.
  CHECK(drawn.front().y_px < drawn.back().y_px);
  CHECK(std::is_sorted(series.ranking->groups.begin(),
                       series.ranking->groups.end(),
                       [](const auto& a, const auto& b) { return a.mean > b.mean; }));
}

TEST_CASE("a group known only by a bound gets a band and no mean", "[report]") {
  SeriesResult series = test::invented_series();
  series.ranking->groups.front().mean.reset();
  series.ranking->groups.front().interval = {70.0, {}};
  const std::string script = ranking_chart_script(series, kFile);
  CHECK(test::times_in(script, "set object rectangle") == 5);
  CHECK(test::times_in(script, "nohead front") == 4);
}

TEST_CASE("groups of one material are told apart in the chart of normal scores", "[report]") {
  SeriesResult series = test::invented_series();
  std::size_t drawn = 0;
  for (GroupSummary& group : series.ranking->groups) {
    group.material = series.bars.front().bar.material;
    group.normal_scores = normal_scores({1.0, 1.3, 1.1, 1.2});
    group.mean = 1.15;
    group.s = 0.13;
    ++drawn;
  }
  REQUIRE(drawn >= 2);
  const std::string script = scores_chart_script(series, kFile);
  CHECK(test::times_in(script, "set label \"\" at graph") == drawn);
  for (const char* type : {"with points pointtype 7", "with points pointtype 5"}) {
    CHECK(test::times_in(script, type) == 1);
  }
}

TEST_CASE("an interval too wide for the chart does not press the bars together", "[report]") {
  SeriesResult series = test::invented_series();
  const std::string plain = ranking_chart_script(series, kFile);
  series.ranking->groups.back().interval.high = 5000.0;
  const std::string wide = ranking_chart_script(series, kFile);
  CHECK(test::times_in(plain, "set object polygon") == 0);
  CHECK(test::times_in(wide, "set object polygon") == 1);
  const std::vector<Mark> drawn = marks(run_gnuplot(wide), "gpPt6");
  const auto [left, right] = std::minmax_element(
      drawn.begin(), drawn.end(), [](const Mark& a, const Mark& b) { return a.x_px < b.x_px; });
  CHECK(right->x_px - left->x_px > 0.2 * kFile.width_px);
}

TEST_CASE("values below zero are on the chart too", "[report]") {
  SeriesResult series = test::invented_series();
  series.bars[0].bar.strength_kJ_m2 = Uncertain::from(-2.0, 0.5, "noise", SourceKind::Own);
  CHECK(marks(ranking_svg(series), "gpPt6").size() == exact_values(series).size());
}

TEST_CASE("hostile names reach gnuplot as text alone", "[report]") {
  SeriesResult series = test::invented_series();
  series.title = "\"; system(\"touch owned\"); \"`touch owned`";
  series.ranking->groups[0].material = "'; !touch owned\nEND\nplot x";
  const std::string script = ranking_chart_script(series, kFile);
  CHECK(script.find("system(") == std::string::npos);
  CHECK(script.find("!touch") == std::string::npos);
  CHECK(script.find_first_of("`'@") == std::string::npos);
  CHECK(run_gnuplot(script).find("</svg>") != std::string::npos);
}

TEST_CASE("the swing chart draws every sample and every residual", "[report]") {
  const BarResult bar = test::invented_series().bars[1];
  const std::string svg = run_gnuplot(swing_chart_script(bar, {"A", "B", "C"}, kFile));
  const std::size_t samples = bar.swing->arm.angles.samples.size();
  const std::size_t used = bar.swing->measurement.curve.used_samples.size();
  REQUIRE(used < samples);
  CHECK(marks(svg, "gpPt6").size() == 2 * used);        // once on the curve, once as residual
  CHECK(marks(svg, "gpPt5").size() == samples - used);  // open: left out of the fit
  for (const char* word : {">release<", ">blow<", ">turn<"})
    CHECK(svg.find(word) != std::string::npos);
}

TEST_CASE("the swing chart draws a track that counts the other way right side up", "[report]") {
  const SeriesResult series = test::invented_series();
  REQUIRE(series.bars[1].swing->measurement.direction < 0.0);
  for (const std::size_t i : {std::size_t{0}, std::size_t{1}}) {
    const std::vector<Mark> drawn =
        marks(run_gnuplot(swing_chart_script(series.bars[i], {}, kFile)), "gpPt6");
    const std::size_t used = series.bars[i].swing->measurement.curve.used_samples.size();
    const auto lowest =
        std::max_element(drawn.begin(),
                         drawn.begin() + static_cast<std::ptrdiff_t>(used),
                         [](const Mark& a, const Mark& b) { return a.y_px < b.y_px; });
    CHECK(drawn.front().y_px < lowest->y_px);  // release above zero, turn below
    CHECK(lowest != drawn.begin());
  }
}

TEST_CASE("the swing chart does without a curve", "[report]") {
  BarResult bar = test::invented_series().bars[0];
  bar.swing->measurement.curve = {};
  bar.swing->measurement.events = {};
  bar.swing->measurement.zero_rad.reset();
  const std::string svg = run_gnuplot(swing_chart_script(bar, {}, kFile));
  CHECK(marks(svg, "gpPt5").size() == bar.swing->arm.angles.samples.size());
}

TEST_CASE("the effect chart draws a point for each effect", "[report]") {
  const SeriesResult series = test::invented_series();
  CHECK(marks(run_gnuplot(effect_chart_script(series, kFile)), "gpPt6").size() ==
        series.ranking->effects.size());
}

TEST_CASE("inline_svg changes tags and never a name", "[report]") {
  SeriesResult series = test::invented_series();
  series.ranking->groups[0].material = "black id='x'";
  const std::string svg =
      inline_svg(ranking_svg(series, ranking_page_canvas(5, false)), "one", "Says <what>");
  CHECK(svg.find(">black id='x'<") != std::string::npos);
  CHECK(svg.find("aria-label=\"Says &lt;what&gt;\"") != std::string::npos);
  CHECK(svg.find("http") == std::string::npos);
  CHECK(svg.find("rgb(") == std::string::npos);  // every colour follows light and dark
  CHECK(svg.find("font-weight=\"bold\"") != std::string::npos);
  const test::HtmlPage page = test::read_html(svg);
  CHECK(page.faults == std::vector<std::string>());
  for (const std::string& id : page.values_of("id")) CHECK(id.rfind("one-", 0) == 0);
}

TEST_CASE("mended_svg marks bold type as SVG has it", "[report]") {
  const std::string svg = mended_svg(ranking_svg(test::invented_series()));
  CHECK(svg.find(":Bold") == std::string::npos);
  CHECK(svg.find("font-weight=\"bold\"") != std::string::npos);
}

}  // namespace swingloss
