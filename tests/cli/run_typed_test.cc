// SPDX-License-Identifier: Apache-2.0
// Series without usable clips: what a fault of input does to its own bar, and to the others.
#include "series_folder.h"
#include "support/test.h"

#include <nlohmann/json.hpp>

using namespace swingloss;
using Catch::Contains;
using test::SeriesFolder;

namespace {

/// Whether the five parts of a message stand in `text`, in order.
void check_message(const std::string& text,
                   const std::string& file,
                   const std::string& place,
                   const std::string& found,
                   const std::string& wanted,
                   const std::string& next) {
  const std::size_t start = text.find(file + ": " + place + ": found " + found);
  CAPTURE(text, place);
  REQUIRE(start != std::string::npos);
  const std::string line = text.substr(start, text.find('\n', start) - start);
  CHECK_THAT(line, Contains("; wanted " + wanted) && Contains(next));
}

void check_typed_bars_are_ranked(const SeriesFolder& series) {
  const auto json = nlohmann::json::parse(test::bytes_of(series / "results/results.json"));
  REQUIRE(json.at("groups").size() == 2);
  CHECK(std::filesystem::exists(series / "results/report.html"));
}

}  // namespace

TEST_CASE("each faulty row is named in full and the other bars are finished", "[cli]") {
  const SeriesFolder series;
  series.specimens(test::kTypedRows +
                   "X1,Korvel,as-made,,much,,8\n"
                   "X2,Korvel,as-made,,1,,-8\n"
                   "X3,Korvel,as-made,,1,,0.008\n"
                   "X4,Korvel,as-made,,1,,8000\n"
                   "X5,Korvel,as-made,gone.mp4,,,8\n"
                   "../X6,Korvel,as-made,,1,,8\n"
                   "X7,Korvel,as-made,,1,>>,8\n");
  const auto before = series.outside_results();
  const auto end = series.run();
  CHECK(end.status == 1);
  CHECK(std::count(end.err.begin(), end.err.end(), '\n') == 13);  // a line a bar, for a log
  CHECK_THAT(end.err, Contains("measured 13 of 13: ") && !Contains("swingloss:"));
  const auto quiet = series.run({"--quiet"});
  CHECK(quiet.out.empty());
  CHECK_THAT(quiet.err, Contains("X5: ") && !Contains("measured 1"));
  const std::string csv = "s/specimens.csv";
  check_message(end.out, csv, "row 8, column energy_J", "\"much\"", "a number", "Write digits");
  check_message(end.out,
                csv,
                "row 9, column width_mm",
                "\"-8\"",
                "a number above zero",
                "Leave the field empty");
  check_message(end.out,
                csv,
                "row 10, column width_mm",
                "\"0.008\"",
                "a number of mm",
                "Did you mean 8 mm");
  check_message(end.out,
                csv,
                "row 11, column width_mm",
                "\"8000\"",
                "a number of mm",
                "Did you mean 8 mm");
  check_message(end.out,
                csv,
                "row 12, column clip",
                "\"gone.mp4\"",
                "a file in s",
                "copy the clip there");
  check_message(end.out,
                csv,
                "row 13, column id",
                "\"../X6\"",
                "a name fit for a file",
                "Give the bar a short name");
  check_message(
      end.out, csv, "row 14, column limit", "\">>\"", "> (more than", "Type the sign alone");
  CHECK_THAT(
      end.out,
      Contains("Not measured: 7 of 13 bars") && Contains("Report: s/results/report.html"));
  check_typed_bars_are_ranked(series);
  CHECK(series.outside_results() == before);
}

TEST_CASE("files that are no clips are their bars' problems", "[cli]") {
  const SeriesFolder series;
  series.write("clips/text.mp4", "This is not a film.\n");
  series.write("clips/empty.mp4", "");
  series.write("clips/sound.wav", test::silent_wav());
  test::write_one_picture(series / "clips/one.mp4");
  series.specimens(test::kTypedRows +
                   "X1,Korvel,as-made,text.mp4,,,8\nX2,Korvel,as-made,empty.mp4,,,8\n"
                   "X3,Korvel,as-made,sound.wav,,,8\nX4,Korvel,as-made,one.mp4,,,8\n");
  const auto end = series.run();
  CHECK(end.status == 1);
  CAPTURE(end.out);
  CHECK_THAT(end.out,
             Contains("X1: s/clips/text.mp4: found") &&
                 Contains("X2: s/clips/empty.mp4: found") &&
                 Contains("X3: s/clips/sound.wav: found"));
  CHECK_THAT(end.out, Contains("X4: one.mp4: ") && Contains("Not measured: 4 of 10 bars"));
  check_typed_bars_are_ranked(series);
}

TEST_CASE("swing says of each file that is no clip what it is", "[cli]") {
  const SeriesFolder series;
  const std::string text = series.write("text.mp4", "This is not a film.\n");
  const std::string sound = series.write("sound.wav", test::silent_wav());
  for (const std::string& path : {text, sound, series / "gone.mp4"}) {
    const auto end = test::run_program({"swing", path});
    CAPTURE(end.err);
    CHECK(end.status == 2);
    CHECK(end.out.empty());
    CHECK_THAT(end.err, Contains("swingloss: " + path + ": found") && Contains("; wanted"));
  }
  CHECK_THAT(test::run_program({"swing", sound}).err, Contains("sound") || Contains("audio"));
}

TEST_CASE("a clip of one picture is refused with a cause", "[cli]") {
  const SeriesFolder series;
  test::write_one_picture(series / "one.mp4");
  const auto end =
      test::run_program({"swing", series / "one.mp4", "--json", series / "one.json"});
  CHECK(end.status == 1);
  CHECK_THAT(end.out, Contains("unclear") && Contains("not measured: "));
  CHECK_THAT(end.err, Contains(series / "one.mp4"));
  const auto json = nlohmann::json::parse(test::bytes_of(series / "one.json"));
  CHECK(json.at("release_angle_deg").is_null());
  CHECK(json.at("remarks").at(0).at("severity") == "refusal");
}

TEST_CASE("a series stops at an unknown column, an id that stands twice, a wrong field",
          "[cli]") {
  const SeriesFolder series;
  series.specimens("T1,Korvel,a,,1,,8\nT1,Korvel,b,,2,,8\n");
  const auto twice = series.run();
  CHECK(twice.status == 2);
  check_message(
      twice.err, "s/specimens.csv", "row 3, column id", "\"T1\"", "each id once", "rename one");
  series.write("specimens.csv", "id,materail,energy_J\nT1,Korvel,1\n");
  const auto column = series.run();
  CHECK(column.status == 2);
  check_message(column.err,
                "s/specimens.csv",
                "header",
                "unknown column materail",
                "one of id",
                "Did you mean material?");
  series.write("series.json", R"({ "format": "swingloss/series/1", "titel": "T" })");
  const auto field = series.run();
  CHECK(field.status == 2);
  check_message(field.err,
                "s/series.json",
                "field titel",
                "an unknown field",
                "one of format",
                "Did you mean title?");
  CHECK_FALSE(std::filesystem::exists(series / "results"));
}

TEST_CASE("a rig without moment stops the filmed bars and not the typed ones", "[cli]") {
  const SeriesFolder series;
  series.write("rig.json", R"({ "format": "swingloss/rig/1", "name": "r",
    "reduced_length_m": { "value": 0.33, "u": 0.001 } })");
  series.write("clips/a.mp4", "x");
  series.specimens(test::kTypedRows + "X1,Korvel,as-made,a.mp4,,,8\n");
  const auto some = series.run();
  CHECK(some.status == 1);
  CHECK_THAT(some.out, Contains("X1: s/rig.json") && Contains("moment"));
  check_typed_bars_are_ranked(series);
  // With nothing left to measure it is the series that cannot be used.
  series.specimens("X1,Korvel,as-made,a.mp4,,,8\n");
  const auto none = series.run();
  CHECK(none.status == 2);
  CHECK_THAT(none.err, Contains("s/rig.json") && Contains("moment_Nm") && Contains("wanted"));
}

TEST_CASE("a series without one usable bar says so and still writes its report", "[cli]") {
  const SeriesFolder series;
  series.specimens("X1,Korvel,as-made,,-1,,8\nX2,Korvel,as-made,gone.mp4,,,8\n");
  const auto end = series.run();
  CHECK(end.status == 1);
  CHECK_THAT(end.out,
             Contains("No bar could be measured") && Contains("Not measured: 2 of 2 bars"));
  CHECK(std::filesystem::exists(series / "results/report.html"));
}

TEST_CASE("run on something that is no series says what it wants", "[cli]") {
  const SeriesFolder series;
  const auto file = test::run_program({"run", series / "rig.json"});
  CHECK(file.status == 2);
  CHECK_THAT(file.err, Contains("found a file; wanted a series folder"));
  std::filesystem::remove(series / "specimens.csv");
  const auto empty = series.run();
  CHECK(empty.status == 2);
  CHECK_THAT(empty.err, Contains("s/specimens.csv: found no such file"));
}
