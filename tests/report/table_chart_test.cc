// SPDX-License-Identifier: Apache-2.0
#include "report/table_chart.h"

#include "report/chart_texts.h"
#include "report/html_check.h"
#include "report/invented_series.h"
#include "report/run_gnuplot.h"
#include "report/words.h"
#include "support/test.h"

#include <algorithm>

namespace swingloss {
namespace {

const Canvas kFile{CanvasKind::SvgFile, 1200, 500, 18.0};

SeriesResult tame_series() {
  SeriesResult series = test::invented_series();
  for (GroupSummary& group : series.ranking->groups) {
    group.name = group.material = std::string(1, group.letters.empty() ? 'x' : 'm');
    group.condition = group.orientation = "";
  }
  series.ranking->groups[1].name = "second one";
  return series;
}

}  // namespace

TEST_CASE("the picture of the table shows the mean of every group, toughest on top",
          "[report]") {
  const SeriesResult series = tame_series();
  const std::string svg = run_gnuplot(table_chart_script(series, kFile));
  std::size_t before = 0;
  for (const GroupSummary& group : series.ranking->groups) {
    const std::string mean = ">" + mean_or_bound_words(group) + "<";
    CAPTURE(mean);
    const std::size_t at = svg.find(mean);
    REQUIRE(at != std::string::npos);
    CHECK(at > before);
    before = at;
  }
  CHECK(svg.find(">second one<") != std::string::npos);
  CHECK(svg.find("DEMONSTRATION") != std::string::npos);
}

TEST_CASE("the picture of a long table keeps every row", "[report]") {
  SeriesResult series = tame_series();
  while (series.ranking->groups.size() < 40)
    series.ranking->groups.push_back(series.ranking->groups.back());
  series.ranking->groups.back().rank_low = series.ranking->groups.back().rank_high = 40;
  const std::string svg =
      run_gnuplot(table_chart_script(series, {CanvasKind::SvgFile, 1200, 500, 18.0}));
  CHECK(svg.find(">40<") != std::string::npos);
}

TEST_CASE("hostile names reach the picture of the table as text alone", "[report]") {
  SeriesResult series = tame_series();
  series.title = series.ranking->groups[0].name = "\"; system(\"touch owned\"); \"`x`'\n!y";
  const std::string script = table_chart_script(series, kFile);
  CHECK(script.find("system(") == std::string::npos);
  CHECK(script.find_first_of("`'!") == std::string::npos);
}

TEST_CASE("the summary is one line with every group, bound and letter", "[report]") {
  SeriesResult series = tame_series();
  series.ranking->groups[0].mean.reset();
  series.ranking->groups[0].interval = {};
  series.ranking->groups[0].method = MeanMethod::LowerBound;
  series.ranking->groups[0].bound = 70.0;
  series.ranking->groups[1].rank_low = 1;
  series.ranking->groups[1].rank_high = 2;
  const std::string line = summary_line(series);
  CHECK(std::count(line.begin(), line.end(), '\n') == 1);
  CHECK(line.back() == '\n');
  CHECK(line.find(", >\u00A070.0") != std::string::npos);
  CHECK(line.find("1–2: second one, " + mean_or_bound_words(series.ranking->groups[1])) !=
        std::string::npos);
  CHECK(line.find("1 of 20 bars could not be measured") != std::string::npos);
  CHECK(line.find("Demonstration: ") != std::string::npos);
  series.rendered_or_invented = false;
  CHECK(summary_line(series).find("emonstration") == std::string::npos);
}

TEST_CASE("the summary of a series without a ranking says so, names with line feeds stay on it",
          "[report]") {
  SeriesResult series = tame_series();
  series.title = "two\nlines";
  series.ranking.reset();
  const std::string line = summary_line(series);
  CHECK(std::count(line.begin(), line.end(), '\n') == 1);
  CHECK(line.find("No bar could be measured.") != std::string::npos);
}

}  // namespace swingloss
