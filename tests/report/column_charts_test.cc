// SPDX-License-Identifier: Apache-2.0
#include "report/column_charts.h"

#include "report/chart_files.h"
#include "report/invented_series.h"
#include "report/ranking_chart.h"
#include "report/run_gnuplot.h"
#include "report/svg_marks.h"
#include "support/test.h"

#include <algorithm>

#include <opencv2/imgcodecs.hpp>

namespace swingloss {
namespace {

using test::Mark;
using test::marks;

const Canvas kFile{CanvasKind::SvgFile, 1200, 800, 18.0, false};

/// Bars of the ranking that `counts` takes.
template <typename Counts>
std::vector<const Bar*> bars_of(const SeriesResult& series, Counts counts) {
  std::vector<const Bar*> bars;
  for (const GroupSummary& group : series.ranking->groups) {
    for (const std::size_t i : group.bars) {
      if (counts(series.bars[i].bar)) bars.push_back(&series.bars[i].bar);
    }
  }
  return bars;
}

bool is_exact(const Bar& bar) {
  return bar.energy_J && bar.strength_kJ_m2 && bar.limit == Limit::None && !bar.left_out;
}

double heights_apart(const std::vector<Mark>& drawn) {
  const auto [high, low] = std::minmax_element(
      drawn.begin(), drawn.end(), [](const Mark& a, const Mark& b) { return a.y_px < b.y_px; });
  return low->y_px - high->y_px;
}

}  // namespace

TEST_CASE("strips draw every bar: counted, beyond the range, left out", "[report]") {
  const SeriesResult series = test::invented_series();
  const std::string svg = run_gnuplot(strips_chart_script(series, kFile));
  CHECK(marks(svg, "gpPt6").size() == bars_of(series, is_exact).size());
  CHECK(marks(svg, "gpPt5").size() == 1);  // the bar that did not break
  CHECK(marks(svg, "gpPt1").size() == 1);  // the bar that was left out
}

TEST_CASE("heights of strips are the bars' values", "[report]") {
  const SeriesResult series = test::invented_series();
  const std::vector<Mark> drawn =
      marks(run_gnuplot(strips_chart_script(series, kFile)), "gpPt6");
  std::vector<double> values;
  for (const Bar* bar : bars_of(series, is_exact))
    values.push_back(bar->strength_kJ_m2->value());
  std::sort(values.begin(), values.end());
  std::vector<double> heights;
  for (const Mark& mark : drawn) heights.push_back(-mark.y_px);
  std::sort(heights.begin(), heights.end());
  REQUIRE(heights.size() == values.size());
  const double px_per_unit =
      (heights.back() - heights.front()) / (values.back() - values.front());
  for (std::size_t k = 0; k < values.size(); ++k) {
    // gnuplot prints hundredths of a pixel: half of one here, half at each end of the scale.
    CHECK_THAT(heights[k],
               test::to_truncation(heights.front() + px_per_unit * (values[k] - values.front()),
                                   0.011));
  }
}

TEST_CASE("the chart of energies has a place of its own for every bar", "[report]") {
  const SeriesResult series = test::invented_series();
  REQUIRE(has_energies(series));
  const std::string svg = run_gnuplot(energies_chart_script(series, kFile));
  const std::vector<Mark> drawn = marks(svg, "gpPt6");
  const auto exact = bars_of(series, [](const Bar& bar) {
    return bar.energy_J && bar.limit == Limit::None && !bar.left_out;
  });
  CHECK(drawn.size() == exact.size());
  std::vector<double> places;
  for (const Mark& mark : drawn) places.push_back(mark.x_px);
  std::sort(places.begin(), places.end());
  CHECK(std::adjacent_find(places.begin(), places.end()) == places.end());
  CHECK(heights_apart(drawn) > 0.2 * kFile.height_px);
}

TEST_CASE("a thousand bars and hostile names are drawn all the same", "[report]") {
  SeriesResult series = test::invented_series();
  GroupSummary& group = series.ranking->groups.front();
  group.material = "'; !touch owned\nEND\nplot x";
  const std::size_t one = group.bars.front();
  const std::size_t before = bars_of(series, is_exact).size();
  for (int k = 0; k < 1000; ++k) {
    series.bars.push_back(series.bars[one]);
    group.bars.push_back(series.bars.size() - 1);
  }
  for (const std::string& script :
       {strips_chart_script(series, kFile), energies_chart_script(series, kFile)}) {
    CHECK(script.find("!touch") == std::string::npos);
    CHECK(marks(run_gnuplot(script), "gpPt6").size() == before + 1000);
  }
}

TEST_CASE("bands on dark ground are dark", "[report]") {
  const SeriesResult series = test::invented_series();
  Canvas canvas = video_canvas();
  canvas.dark = true;
  for (const std::string& script :
       {strips_chart_script(series, canvas), ranking_chart_script(series, canvas)}) {
    const std::string png = draw_chart(script, canvas);
    const cv::Mat bgr =
        cv::imdecode(std::vector<unsigned char>(png.begin(), png.end()), cv::IMREAD_COLOR);
    cv::Mat bright;
    cv::inRange(bgr, cv::Scalar::all(200), cv::Scalar::all(255), bright);
    CHECK(cv::countNonZero(bright) > 1000);  // letters
    CHECK(cv::countNonZero(bright) < bgr.rows * bgr.cols / 50);
  }
}

TEST_CASE("bars without an energy make no chart of energies", "[report]") {
  SeriesResult series = test::invented_series();
  for (BarResult& bar : series.bars) bar.bar.energy_J.reset();
  CHECK_FALSE(has_energies(series));
  series.ranking.reset();
  CHECK_FALSE(has_energies(series));
}

}  // namespace swingloss
