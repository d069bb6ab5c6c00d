// SPDX-License-Identifier: Apache-2.0
#include "report/budget_chart.h"

#include "report/invented_series.h"
#include "report/run_gnuplot.h"
#include "support/test.h"

#include <cmath>
#include <set>

namespace swingloss {
namespace {

/// The same budget in every group: `causes` own sources besides the scatter, falling.
SeriesResult with_causes(int causes) {
  SeriesResult series = test::invented_series();
  for (GroupSummary& group : series.ranking->groups) {
    group.name = "group";
    group.budget = {{"bar to bar", BudgetKind::Scatter, 1.0, 0.0}};
    for (int i = 0; i < causes; ++i) {
      group.budget.push_back({std::string("cause ") + static_cast<char>('a' + i),
                              i == 0 ? BudgetKind::Shared : BudgetKind::Own,
                              0.9 - 0.1 * i,
                              0.0});
    }
  }
  return series;
}

}  // namespace

TEST_CASE("every colour of the budget has one name in its legend", "[report]") {
  const SeriesResult series = with_causes(4);
  const std::vector<BudgetCause> causes = budget_causes(series);
  REQUIRE(causes.size() == 5);
  CHECK(causes[0].name == "from bar to bar");
  CHECK(causes[1].name == "cause a (shared)");
  CHECK(causes[4].name == "cause d");
  std::set<std::string> colours;
  for (const BudgetCause& cause : causes) colours.insert(cause.colour.light);
  CHECK(colours.size() == causes.size());
  const Canvas canvas{CanvasKind::SvgFile, 1200, 640, 18.0};
  const std::string svg = run_gnuplot(budget_chart_script(series, canvas));
  for (const BudgetCause& cause : causes) {
    CAPTURE(cause.name);
    CHECK(svg.find(">" + cause.name + "<") != std::string::npos);
  }
  CHECK(svg.find(">% of the variance<") != std::string::npos);
  CHECK(svg.find(">more bars help<") != std::string::npos);
}

TEST_CASE("more causes than colours are joined, and no share is lost", "[report]") {
  const std::vector<BudgetCause> causes = budget_causes(with_causes(8));
  REQUIRE(causes.size() == 8);
  CHECK(causes.back().name == "smaller ones together");
  CHECK(causes[6].name == "cause f");
  for (std::size_t g = 0; g < causes.front().shares.size(); ++g) {
    double sum = 0.0;
    for (const BudgetCause& cause : causes) sum += cause.shares[g];
    CHECK_THAT(sum, test::to_rounding(1.0, 16));  // a sum of eight shares, each rounded
  }
  // 1 of 1 + 0.81 + 0.64 + ... + 0.04 = 3.84; the last two are 0.3^2 + 0.2^2.
  CHECK_THAT(causes.front().shares[0], test::to_rounding(1.0 / 3.84, 32));
  CHECK_THAT(causes.back().shares[0], test::to_rounding(0.13 / 3.84, 64));
}

TEST_CASE("the budget names the part that is worth improving, by its kind", "[report]") {
  SeriesResult series = with_causes(2);
  const Canvas canvas{CanvasKind::SvgFile, 1200, 640, 18.0};
  for (GroupSummary& group : series.ranking->groups) group.budget[0].u = 0.01;
  CHECK(run_gnuplot(budget_chart_script(series, canvas)).find(">measure it better<") !=
        std::string::npos);
  for (GroupSummary& group : series.ranking->groups) group.budget[2].u = 3.0;
  CHECK(run_gnuplot(budget_chart_script(series, canvas)).find(">improve it, or more bars<") !=
        std::string::npos);
}

}  // namespace swingloss
