// SPDX-License-Identifier: Apache-2.0
#include "report/budget_chart.h"
#include "report/column_charts.h"
#include "report/contrast.h"
#include "report/effect_chart.h"
#include "report/invented_series.h"
#include "report/ranking_chart.h"
#include "report/run_gnuplot.h"
#include "support/test.h"

#include <sstream>
#include <vector>

namespace swingloss {
namespace {

const Canvas kFile{CanvasKind::SvgFile, 1200, 700, 18.0, false};

/// Colours of the texts in gnuplot's SVG, linear: the last fill before each text.
std::vector<test::Triple> text_colours(const std::string& svg) {
  const std::string start = "fill=\"rgb(";
  std::vector<test::Triple> colours;
  for (std::size_t at = svg.find("<text"); at != std::string::npos;
       at = svg.find("<text", at + 1)) {
    std::istringstream digits(svg.substr(svg.rfind(start, at) + start.size(), 12));
    test::Triple colour{};
    char comma = ' ';
    for (double& channel : colour) {
      digits >> channel >> comma;
      channel = test::linear_channel(channel);
    }
    colours.push_back(colour);
  }
  return colours;
}

}  // namespace

// 4.5:1 for text: WCAG 2.1, 1.4.3. Materials' colours reach only 3:1, enough for points.
TEST_CASE("every word on every chart is legible on light ground", "[report]") {
  const SeriesResult series = test::invented_series();
  for (const std::string& script : {ranking_chart_script(series, kFile),
                                    strips_chart_script(series, kFile),
                                    energies_chart_script(series, kFile),
                                    effect_chart_script(series, kFile),
                                    budget_chart_script(series, kFile)}) {
    const std::vector<test::Triple> colours = text_colours(run_gnuplot(script));
    CAPTURE(script.substr(0, 300));
    CHECK(colours.size() > 8);
    for (const test::Triple& colour : colours)
      CHECK(test::contrast(colour, test::linear_rgb(kPaper.light)) >= 4.5);
  }
}

}  // namespace swingloss
