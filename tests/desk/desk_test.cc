// SPDX-License-Identifier: Apache-2.0
#include "desk_series.h"
#include "series/run_series.h"
#include "support/test.h"

namespace swingloss {
namespace {

using Json = nlohmann::json;
using Catch::Contains;
using test::ask;
using test::data_of;

Json leave_out(const std::string& bar) {
  return {{"kind", "leave-out"}, {"bar", bar}, {"why", "a bubble in the <b>section</b>"}};
}

std::string bytes_of_results(const test::DeskSeries& series, const std::string& name) {
  return test::bytes_of(series.folder() / ("results/" + name));
}

double mean_of(Desk& desk, const std::string& group) {
  const Json data = data_of(desk, "/api/results");
  for (const Json& each : data.at("groups")) {
    if (each.at("name") == group) return each.at("mean");
  }
  return 0.0;
}

SeriesResult run(const test::DeskSeries& series, bool fresh) {
  RunOptions options;
  options.fresh = fresh;
  options.jobs = 1;
  return run_series(read_series(series.folder().path()), options);
}

}  // namespace

TEST_CASE("the desk shows the bars, their state and the ranking", "[desk]") {
  const test::DeskSeries series;
  Desk desk(series.options());
  desk.workshop().wait_until_idle();
  const Json shown = data_of(desk, "/api/series");
  CHECK(shown.at("title") == "Test");
  REQUIRE(shown.at("bars").size() == 6);
  CHECK(shown.at("bars")[0].at("state") == "typed");
  CHECK(shown.at("has_report") == true);
  CHECK(data_of(desk, "/api/results").at("groups").size() == 2);
  CHECK(ask(desk, "GET", "/results/report.html").status == 200);
  CHECK(ask(desk, "GET", "/results/../specimens.csv").status == 404);
  CHECK(ask(desk, "GET", "/api/bar?id=none").status == 404);
  CHECK(ask(desk, "GET", "/frame?bar=T1").status == 404);
  CHECK(ask(desk, "GET", "/nothing").status == 404);
  CHECK(ask(desk, "POST", "/").status == 404);
  for (const char* page : {"/", "/bar", "/ranking", "/plan", "/common.js", "/desk.css"})
    CHECK(ask(desk, "GET", page).status == 200);
}

TEST_CASE("a bar left out changes mean and report, the run heeds it, and it can be undone",
          "[desk]") {
  const test::DeskSeries series;
  Desk desk(series.options());
  desk.workshop().wait_until_idle();
  const double with_all = mean_of(desk, "Korvel / as-made");
  const DeskReply made = ask(desk, "POST", "/api/corrections", leave_out("T3"));
  CHECK(made.status == 201);
  desk.workshop().wait_until_idle();
  // Mean of 1.02 and 0.98 J over 32 mm2; and a sum of three before. Means are sums and
  // quotients.
  CHECK_THAT(mean_of(desk, "Korvel / as-made"), test::to_rounding(1000.0 / 32.0, 16));
  CHECK_THAT(with_all, test::to_rounding(1150.0 / 32.0, 16));
  const std::string report = bytes_of_results(series, "report.html");
  CHECK_THAT(report, Contains("id=\"corrections\"") && Contains("2026-01-02T03:04:05Z"));
  CHECK_THAT(report, Contains("a bubble in the &lt;b&gt;section") && !Contains("<b>section"));
  const Json stated = Json::parse(bytes_of_results(series, "results.json"));
  CHECK(stated.at("corrections")[0].at("automatic") == "counted");
  for (const bool fresh : {false, true}) {
    const SeriesResult alone = run(series, fresh);
    CHECK(alone.bars[2].bar.left_out);
    CHECK(alone.ranking->groups.size() == 2);
  }
  CHECK(ask(desk, "POST", "/api/undo", {{"number", 1}}).status == 200);
  CHECK(ask(desk, "POST", "/api/undo", {{"number", 1}}).status == 400);
  desk.workshop().wait_until_idle();
  CHECK(mean_of(desk, "Korvel / as-made") == with_all);
  CHECK_THAT(bytes_of_results(series, "report.html"), !Contains("id=\"corrections\""));
  const Json log = Json::parse(bytes_of_results(series, "corrections.json"));
  CHECK(log.at("corrections")[0].at("undone") == "2026-01-02T03:04:05Z");
}

TEST_CASE("regrouping by hand makes one group of two", "[desk]") {
  const test::DeskSeries series;
  Desk desk(series.options());
  CHECK(ask(desk,
            "POST",
            "/api/corrections",
            {{"kind", "group-by"}, {"group_by", {"material"}}, {"why", "one batch"}})
            .status == 201);
  desk.workshop().wait_until_idle();
  CHECK(data_of(desk, "/api/results").at("groups").size() == 1);
  const Json applied = data_of(desk, "/api/results").at("corrections")[0];
  CHECK(applied.at("automatic") == "material, condition");
  CHECK(applied.at("by_hand") == "material");
  CHECK(applied.at("bar").is_null());
}

TEST_CASE("a correction needs a reason and a bar of the series", "[desk]") {
  const test::DeskSeries series;
  Desk desk(series.options());
  Json without = leave_out("T3");
  without["why"] = "  ";
  for (const Json& body : {without, leave_out("T9"), leave_out(""), Json("x"), Json::array()}) {
    const DeskReply reply = ask(desk, "POST", "/api/corrections", body);
    CHECK(reply.status == 400);
    CHECK(Json::parse(reply.body).contains("error"));
  }
  CHECK(bytes_of_results(series, "corrections.json").empty());
  desk.workshop().wait_until_idle();
}

TEST_CASE("a table that cannot be read is told, and mended without a new desk", "[desk]") {
  const test::DeskSeries series("id,material,energy_J\nT1,Korvel,1\nT1,Korvel,2\n");
  Desk desk(series.options());
  CHECK_THAT(data_of(desk, "/api/series").at("fault").get<std::string>(),
             Contains("each id once"));
  ask(desk, "POST", "/api/run");
  desk.workshop().wait_until_idle();
  CHECK_THAT(data_of(desk, "/api/work").at("fault").get<std::string>(),
             Contains("each id once"));
  series.folder().write("specimens.csv", test::kTwoGroups);
  ask(desk, "POST", "/api/run");
  desk.workshop().wait_until_idle();
  CHECK(data_of(desk, "/api/work").at("fault") == "");
  CHECK(data_of(desk, "/api/results").at("groups").size() == 2);
}

TEST_CASE("names of others stay text", "[desk]") {
  const std::string hostile = "<script>alert(1)</script>";
  const test::DeskSeries series("id,material,energy_J\nT1," + hostile + ",1\nT2," + hostile +
                                ",2\n");
  Desk desk(series.options());
  desk.workshop().wait_until_idle();
  const DeskReply data = ask(desk, "GET", "/api/series");
  CHECK(data.type == "application/json");
  CHECK(Json::parse(data.body).at("bars")[0].at("material") == hostile);
  CHECK_THAT(bytes_of_results(series, "report.html"), !Contains("<script>"));
  CHECK_THAT(ask(desk, "GET", "/").body, !Contains(hostile));
  // The pages put texts in as text: nothing in them turns a text into markup.
  for (const char* script : {"/common.js",
                             "/series.js",
                             "/bar.js",
                             "/bar_forms.js",
                             "/picture.js",
                             "/ranking.js",
                             "/plan.js"}) {
    const std::string text = ask(desk, "GET", script).body;
    CHECK_FALSE(text.empty());
    CHECK_THAT(text,
               !Contains("innerHTML") && !Contains("insertAdjacentHTML") &&
                   !Contains("document.write") && !Contains("eval("));
  }
}

TEST_CASE("a bar is added to the table and the plan is made from the series", "[desk]") {
  const test::DeskSeries series;
  Desk desk(series.options());
  desk.workshop().wait_until_idle();
  const Json bar = {{"id", "T7"},
                    {"material", "Korvel"},
                    {"condition", "as-made"},
                    {"energy_J", "1.10"},
                    {"width_mm", "8"},
                    {"thickness_mm", "4"}};
  CHECK(ask(desk, "POST", "/api/bars", bar).status == 201);
  CHECK(ask(desk, "POST", "/api/bars", bar).status == 400);
  desk.workshop().wait_until_idle();
  CHECK(data_of(desk, "/api/series").at("bars").size() == 7);
  const Json plan = data_of(desk, "/api/plan?difference=20");
  CHECK(plan.at("bars_for_difference")[0].at("difference") == 0.2);
  CHECK(plan.at("reached").size() == 2);
}

}  // namespace swingloss
