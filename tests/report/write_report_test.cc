// SPDX-License-Identifier: Apache-2.0
#include "report/write_report.h"

#include "core/input_error.h"
#include "report/chart_texts.h"
#include "report/html_check.h"
#include "report/invented_frames.h"
#include "report/invented_series.h"
#include "support/temp_folder.h"
#include "support/test.h"

#include <algorithm>
#include <filesystem>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

/// Only the first bar, the one that did not break and the one with a hostile id keep their
/// swings: enough to see every kind of file.
SeriesResult short_series() {
  SeriesResult series = test::invented_series();
  for (std::size_t i = 0; i < series.bars.size(); ++i) {
    if (i != 0 && i != 6 && i != 14) series.bars[i].swing.reset();
  }
  return series;
}

/// Little to draw: one bar's chart and strip.
SeriesResult one_bar_to_draw() {
  SeriesResult series = test::invented_series();
  series.ranking.reset();
  for (std::size_t i = 1; i < series.bars.size(); ++i) series.bars[i].swing.reset();
  return series;
}

ReportOptions with_strips() {
  ReportOptions options;
  options.strip_of = test::invented_frames;
  return options;
}

bool holds(const ReportFiles& files, const std::string& name) {
  return std::find(files.names.begin(), files.names.end(), name) != files.names.end();
}

}  // namespace

TEST_CASE("write_report writes tables, page, charts and plates, and nothing beside them",
          "[report]") {
  const test::TempFolder folder;
  const std::string results = folder / "Prüf “A” & 'B' \U0001F528/results";
  const ReportFiles files = write_report(short_series(), results, with_strips());
  std::vector<std::string> found;
  for (const auto& entry : fs::recursive_directory_iterator(results)) {
    if (entry.is_regular_file()) found.push_back(fs::relative(entry.path(), results).string());
  }
  std::sort(found.begin(), found.end());
  CHECK(found == files.names);
  for (const char* name : {"results.csv",
                           "results.json",
                           "report.html",
                           "charts/ranking.svg",
                           "charts/ranking.png",
                           "summary.txt",
                           "charts/table.svg",
                           "charts/table.png",
                           "charts/effects.svg",
                           "charts/angle-A1.svg",
                           "charts/angle-A1.png",
                           "plates/strip-A1.png",
                           "charts/angle-B2.png"}) {
    CAPTURE(name);
    CHECK(holds(files, name));
  }
  // An id that cannot be a file name gives its place instead.
  CHECK(holds(files, "charts/angle-bar(15).svg"));
}

TEST_CASE("write_report gives the same bytes again", "[report]") {
  const test::TempFolder folder;
  const SeriesResult series = short_series();
  const ReportFiles first = write_report(series, folder / "one", with_strips());
  const ReportFiles second = write_report(series, folder / "two", with_strips());
  REQUIRE(first.names == second.names);
  for (const std::string& name : first.names) {
    CAPTURE(name);
    CHECK(test::bytes_of(folder / ("one/" + name)) == test::bytes_of(folder / ("two/" + name)));
  }
}

TEST_CASE("the written page is well formed, whole and offline, charts and pictures in it",
          "[report]") {
  const test::TempFolder folder;
  const SeriesResult series = short_series();
  const ReportFiles files = write_report(series, folder / "r", with_strips());
  const std::string html = test::bytes_of(files.page);
  const test::HtmlPage page = test::read_html(html);
  CHECK(page.faults == std::vector<std::string>());
  CHECK(html.find("http:") == std::string::npos);
  CHECK(html.find("https:") == std::string::npos);
  CHECK(page.count_of("img") == 9);  // three swings with three pictures each
  const std::vector<std::string> ids = page.values_of("id");
  std::vector<std::string> unique = ids;
  std::sort(unique.begin(), unique.end());
  CHECK(std::unique(unique.begin(), unique.end()) == unique.end());
}

TEST_CASE("write_report removes charts of bars that are gone and leaves other files alone",
          "[report]") {
  const test::TempFolder folder;
  folder.write("r/charts/angle-gone.svg", "old");
  folder.write("r/plates/strip-gone.png", "old");
  folder.write("r/charts/mine.svg", "the user's own");
  folder.write("r/swings/A1.json", "{}");
  (void)write_report(short_series(), folder / "r");
  CHECK_FALSE(fs::exists(folder / "r/charts/angle-gone.svg"));
  CHECK_FALSE(fs::exists(folder / "r/plates/strip-gone.png"));
  CHECK(fs::exists(folder / "r/charts/mine.svg"));
  CHECK(fs::exists(folder / "r/swings/A1.json"));
}

TEST_CASE("a run without the extra charts takes away those of the run before", "[report]") {
  const test::TempFolder folder;
  SeriesResult series = short_series();
  for (BarResult& bar : series.bars) bar.swing.reset();
  ReportOptions options;
  options.charts = {true, true, true};
  const ReportFiles more = write_report(series, folder / "r", options);
  for (const char* name : {"charts/ranking-4k.png",
                           "charts/table-transparent.svg",
                           "charts/effects-4k-dark-transparent.png"}) {
    CAPTURE(name);
    CHECK(holds(more, name));
    CHECK(fs::exists(folder / ("r/" + std::string(name))));
  }
  const ReportFiles plain = write_report(series, folder / "r");
  CHECK(plain.names.size() < more.names.size());
  CHECK_FALSE(fs::exists(folder / "r/charts/ranking-4k.png"));
  CHECK_FALSE(fs::exists(folder / "r/charts/effects-4k-dark-transparent.png"));
  CHECK(fs::exists(folder / "r/charts/ranking.png"));
}

TEST_CASE("a report whose sources are the same is left as it lies there", "[report]") {
  const test::TempFolder folder;
  SeriesResult series = one_bar_to_draw();
  int strips = 0;
  ReportOptions options;
  options.jobs = 1;
  options.source_mark = "one";
  options.strip_of = [&](const BarResult& bar) {
    ++strips;
    return test::invented_frames(bar);
  };
  const ReportFiles first = write_report(series, folder / "r", options);
  const int drawn_once = strips;
  REQUIRE(drawn_once > 0);
  const auto drawn_again = [&](const ReportOptions& now) {
    const int before = strips;
    const ReportFiles files = write_report(series, folder / "r", now);
    CHECK(files.page == first.page);
    return strips > before;
  };
  CHECK_FALSE(drawn_again(options));
  CHECK(write_report(series, folder / "r", options).names == first.names);

  SECTION("other sources") { options.source_mark = "two"; }
  SECTION("other numbers") { series.title += "!"; }
  SECTION("other charts") { options.charts.dark = true; }
  SECTION("asked for") { options.redraw = true; }
  SECTION("films") { options.films = {"no-such-bar"}; }
  SECTION("a file changed") { folder.write("r/summary.txt", "mine"); }
  SECTION("a file gone") { fs::remove(folder / "r/charts/angle-A1.png"); }
  SECTION("no note") { fs::remove(folder / "r/drawn-from.txt"); }
  CHECK(drawn_again(options));
  CHECK(test::bytes_of(folder / "r/summary.txt") == summary_line(series));
  CHECK(fs::exists(folder / "r/charts/angle-A1.png"));
}

TEST_CASE("a report with a picture missing is drawn anew", "[report]") {
  const test::TempFolder folder;
  ReportOptions options;
  options.source_mark = "one";
  options.strip_of = [](const BarResult& bar) -> std::vector<StripFrame> {
    throw InputError({bar.specimen.clip, "", "no such file", "the clip", ""});
  };
  CHECK_FALSE(write_report(one_bar_to_draw(), folder / "r", options).whole);
  CHECK_FALSE(fs::exists(folder / "r/drawn-from.txt"));
}

TEST_CASE("without gnuplot nothing is written and the package is named", "[report]") {
  const test::TempFolder folder;
  ReportOptions options;
  options.gnuplot = "no-such-gnuplot";
  CHECK_THROWS_WITH(write_report(short_series(), folder / "r", options),
                    Catch::Contains("gnuplot-nox"));
  CHECK_FALSE(fs::exists(folder / "r"));
}

TEST_CASE("a clip that has gone since leaves a remark and stops nothing", "[report]") {
  const test::TempFolder folder;
  ReportOptions options;
  options.strip_of = [](const BarResult& bar) -> std::vector<StripFrame> {
    throw InputError({bar.specimen.clip, "", "no such file", "the clip", ""});
  };
  const ReportFiles files = write_report(short_series(), folder / "r", options);
  CHECK(test::bytes_of(files.page).find("could not be read again") != std::string::npos);
}

TEST_CASE("a series with nothing to draw needs no gnuplot", "[report]") {
  const test::TempFolder folder;
  SeriesResult series = test::invented_series();
  series.ranking.reset();
  for (BarResult& bar : series.bars) bar.swing.reset();
  ReportOptions options;
  options.gnuplot = "no-such-gnuplot";
  const ReportFiles files = write_report(series, folder / "r", options);
  CHECK(files.names ==
        std::vector<std::string>{"report.html", "results.csv", "results.json", "summary.txt"});
}

}  // namespace swingloss
