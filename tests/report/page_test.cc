// SPDX-License-Identifier: Apache-2.0
#include "report/page.h"

#include "report/escape.h"
#include "report/html_check.h"
#include "report/invented_series.h"
#include "support/test.h"

#include <algorithm>
#include <set>

namespace swingloss {
namespace {

PagePictures some_pictures(const SeriesResult& series) {
  PagePictures pictures;
  pictures.ranking_wide = "<svg viewBox=\"0 0 1 1\"></svg>";
  pictures.ranking_narrow = pictures.ranking_wide;
  pictures.bars.resize(series.bars.size());
  pictures.bars[0].strip = {{"release", "picture at 0.4 s", "JPEG", 10, 10}};
  return pictures;
}

std::string page_of(const SeriesResult& series) {
  return report_page(series, some_pictures(series));
}

}  // namespace

TEST_CASE("the page is well formed with hostile names all over it", "[report]") {
  SeriesResult series = test::invented_series();
  for (BarResult& bar : series.bars) {
    for (std::string* text : {&bar.specimen.id,
                              &bar.specimen.material,
                              &bar.specimen.note,
                              &bar.specimen.clip,
                              &bar.bar.rig})
      *text = test::hostile_name();
    if (bar.swing) bar.swing->arm.why_mode = test::hostile_name();
    bar.remarks = {{"x", Severity::Warning, test::hostile_name()}};
  }
  for (std::string* text :
       {&series.title, &series.geometry_words, &series.label, &series.rigs[0].name})
    *text = test::hostile_name();
  for (GroupSummary& group : series.ranking->groups)
    group.name = group.letters = group.budget[0].source = test::hostile_name();
  series.ranking->verdict_sentences = {test::hostile_name()};
  series.ranking->comparisons[0].bars_words = series.ranking->comparisons[0].method =
      test::hostile_name();
  const std::string html = page_of(series);
  const test::HtmlPage page = test::read_html(html);
  CHECK(page.faults == std::vector<std::string>());
  CHECK(page.count_of("script") == 0);
  CHECK(html.find("<script") == std::string::npos);
  CHECK(html.find("\u202E") == std::string::npos);
  for (const test::HtmlTag& tag : page.tags) {
    for (const auto& [name, value] : tag.attributes) CHECK(name.rfind("on", 0) != 0);
  }
}

TEST_CASE("the page asks nobody for anything", "[report]") {
  const std::string html = page_of(test::invented_series());
  CHECK(html.find("http:") == std::string::npos);
  CHECK(html.find("https:") == std::string::npos);
  CHECK(html.find("url(") == std::string::npos);
  CHECK(html.find("@import") == std::string::npos);
  CHECK(html.find("default-src 'none'") != std::string::npos);
  const test::HtmlPage page = test::read_html(html);
  for (const std::string& source : page.values_of("src")) CHECK(source.rfind("data:", 0) == 0);
  for (const std::string& target : page.values_of("href")) {
    CHECK((target.front() == '#' || target == "results.csv" || target == "results.json" ||
           target == "summary.txt"));
  }
}

TEST_CASE("every anchor of the page leads somewhere, and every id is given once", "[report]") {
  const test::HtmlPage page = test::read_html(page_of(test::invented_series()));
  const std::vector<std::string> ids = page.values_of("id");
  const std::set<std::string> unique(ids.begin(), ids.end());
  CHECK(unique.size() == ids.size());
  for (const std::string& target : page.values_of("href")) {
    CAPTURE(target);
    if (target.front() == '#') CHECK(unique.count(target.substr(1)) == 1);
  }
  for (const std::string& target : page.values_of("aria-labelledby"))
    CHECK(unique.count(target) == 1);
}

TEST_CASE("the page can be read without seeing it", "[report]") {
  const test::HtmlPage page = test::read_html(page_of(test::invented_series()));
  CHECK(page.count_of("h1") == 1);
  CHECK(page.count_of("main") == 1);
  CHECK(page.tags.front().attributes.at("lang") == "en");
  int level = 1;
  for (const test::HtmlTag& tag : page.tags) {
    if (tag.name == "img") CHECK_FALSE(tag.attributes.at("alt").empty());
    if (tag.name == "th") CHECK(tag.attributes.count("scope") == 1);
    if (tag.name.size() != 2 || tag.name[0] != 'h' || tag.name[1] < '1' || tag.name[1] > '6')
      continue;
    CHECK(tag.name[1] - '0' <= level + 1);  // no level is left out on the way down
    level = tag.name[1] - '0';
  }
}

TEST_CASE("parts have names, tables captions, and what scrolls sideways is reached by Tab",
          "[report]") {
  const SeriesResult series = test::invented_series();
  PagePictures pictures = some_pictures(series);
  for (std::string* chart :
       {&pictures.strips, &pictures.energies, &pictures.effects, &pictures.budget})
    *chart = pictures.ranking_wide;
  const test::HtmlPage page = test::read_html(report_page(series, pictures));
  std::size_t pans = 0;
  for (const test::HtmlTag& tag : page.tags) {
    const auto has = [&](const char* name) { return tag.attributes.count(name) == 1; };
    if (tag.name == "section" || tag.name == "article") CHECK(has("aria-labelledby"));
    if (tag.name == "nav" || tag.name == "aside") CHECK(has("aria-label"));
    if (!has("class")) continue;
    const std::string& kind = tag.attributes.at("class");
    if (kind == "pan") ++pans;
    if (kind != "scroll" && kind != "pan") continue;
    CHECK(tag.attributes.at("tabindex") == "0");
    CHECK(tag.attributes.at("role") == "region");
    CHECK(tag.attributes.at("aria-label").size() > 4);
  }
  CHECK(pans == 4);
  CHECK(page.count_of("table") == page.count_of("caption"));
}

TEST_CASE("the page heeds wishes for less motion, for paper, and for colours of one's own",
          "[report]") {
  const std::string html = page_of(test::invented_series());
  for (const char* wish : {"(prefers-reduced-motion: reduce)",
                           "(prefers-color-scheme: dark)",
                           "(forced-colors: active)",
                           "@media print"}) {
    CAPTURE(wish);
    CHECK(html.find(wish) != std::string::npos);
  }
}

TEST_CASE("the verdict comes before everything else that counts", "[report]") {
  const std::string html = page_of(test::invented_series());
  std::size_t before = html.find("<main>");
  for (const char* id : {"verdict",
                         "groups",
                         "comparisons",
                         "effects",
                         "budget",
                         "bars",
                         "unmeasured",
                         "rigs",
                         "method",
                         "remarks",
                         "cautions"}) {
    CAPTURE(id);
    const std::size_t at = html.find(std::string("<section id=\"") + id + "\"");
    REQUIRE(at != std::string::npos);
    CHECK(at > before);
    before = at;
  }
}

TEST_CASE("every bar is on the page, and those that were not measured are named with the cause",
          "[report]") {
  const SeriesResult series = test::invented_series();
  const std::string html = page_of(series);
  for (std::size_t i = 0; i < series.bars.size(); ++i) {
    CHECK(html.find("id=\"bar-" + std::to_string(i + 1) + "\"") != std::string::npos);
  }
  CHECK(html.find("1 bar could not be measured") != std::string::npos);
  CHECK(html.find(html_text(series.bars[12].problem->text)) != std::string::npos);
  CHECK(html.find(html_text(series.bars[3].bar.left_out_reason)) != std::string::npos);
  CHECK(html.find("&gt;\u00A0") != std::string::npos);  // the bar that did not break: above
}

TEST_CASE("invented data are called so, measured data are not", "[report]") {
  SeriesResult series = test::invented_series();
  series.label = "invented materials, rendered footage";
  CHECK(page_of(series).find("Demonstration: invented materials, rendered footage") !=
        std::string::npos);
  series.rendered_or_invented = false;
  const std::string html = page_of(series);
  CHECK(html.find("Demonstration") == std::string::npos);
  CHECK(html.find("not an accredited test") != std::string::npos);
}

TEST_CASE("a page of typed values says nothing of cameras, tracks and plates", "[report]") {
  SeriesResult series = test::invented_series();
  const std::string filmed = page_of(series);
  for (BarResult& bar : series.bars) {
    bar.swing.reset();
    bar.surface.reset();
    bar.specimen.clip.clear();
  }
  const std::string typed = page_of(series);
  for (const char* words : {"come from a camera",
                            "The arm is followed",
                            "charts and plates",
                            "At the rig",
                            "ISO 13802, Plastics"}) {
    CAPTURE(words);
    CHECK(filmed.find(words) != std::string::npos);
    CHECK(typed.find(words) == std::string::npos);
  }
  CHECK(typed.find("not an accredited test") != std::string::npos);
  CHECK(typed.find("No bar was filmed") != std::string::npos);
  CHECK(test::read_html(typed).faults == std::vector<std::string>());
}

TEST_CASE("a series without any usable bar still gives a page that says why", "[report]") {
  SeriesResult series = test::invented_series();
  series.ranking.reset();
  for (BarResult& bar : series.bars)
    bar.problem = BarProblem{"no-pendulum", "clips/x.mp4: no pendulum."};
  PagePictures pictures;
  pictures.bars.resize(series.bars.size());
  const std::string html = report_page(series, pictures);
  CHECK(test::read_html(html).faults == std::vector<std::string>());
  CHECK(html.find("nothing to rank") != std::string::npos);
  CHECK(html.find("20 bars could not be measured") != std::string::npos);
  CHECK(html.find("<section id=\"bars\"") == std::string::npos);
}

}  // namespace swingloss
