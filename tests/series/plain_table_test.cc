// SPDX-License-Identifier: Apache-2.0
#include "series/plain_table.h"

#include "core/angle.h"
#include "core/input_error.h"
#include "series/angle_table.h"
#include "support/temp_folder.h"
#include "support/test.h"

using namespace swingloss;
using Catch::Contains;
using test::TempFolder;

namespace {

AngleTrack read(const std::string& text, const AngleTableOptions& options = {}) {
  const TempFolder folder;
  return read_angle_table(folder.write("log.txt", text), options).track;
}

AngleTableOptions columns(std::vector<std::string> names) {
  AngleTableOptions options;
  options.columns = std::move(names);
  return options;
}

constexpr double kRad = kPi / 180.0;

}  // namespace

TEST_CASE("a table without header is time and angle, however it is separated", "[series]") {
  for (const char* text : {"0 90\n0.5 80\n",
                           "0\t90\n0.5\t80\n",
                           "0,90\n0.5,80\n",
                           "0;90\n0,5;80,0\n",
                           "# logger 3\n\n  0   90 \n 0.5   8e1\r\n"}) {
    CAPTURE(text);
    const AngleTrack track = read(text);
    REQUIRE(track.samples.size() == 2);
    CHECK(track.samples[1].t_s == 0.5);
    // One multiplication by pi/180.
    CHECK_THAT(track.samples[1].theta_rad, test::to_rounding(80.0 * kRad, 2));
  }
  const TempFolder folder;
  const AngleTable table = read_angle_table(folder.write("log.txt", "0 90\n0.5 80\n"));
  CHECK(table.remarks.front().code == "columns-assumed");
}

TEST_CASE("columns are found by name and by number, in the units that are said", "[series]") {
  AngleTableOptions options = columns({"clock", "pos"});
  options.radians = true;
  options.time_unit_s = 1e-3;
  const AngleTrack named = read("n,clock,pos\n1,0,0.5\n2,20,0.25\n", options);
  CHECK(named.samples[1].t_s == 0.02);
  CHECK(named.samples[1].theta_rad == 0.25);
  const AngleTrack numbered = read("7 0 90 1\n8 0.5 80 1\n", columns({"2", "3"}));
  CHECK(numbered.samples[1].t_s == 0.5);
}

TEST_CASE("angles alone get their times from the rate", "[series]") {
  AngleTableOptions options = columns({"1"});
  options.rate_per_s = 1000.0;
  options.skip_lines = 2;
  const AngleTrack track = read("start, rate, duration\n90, 1000, 5\n-90.4\n-90.6\n", options);
  REQUIRE(track.samples.size() == 2);
  CHECK(track.samples[1].t_s == 1e-3);
  // The same number of degrees turned into radians along another way of rounding.
  CHECK_THAT(track.samples[1].theta_rad, test::to_rounding(-90.6 * kRad, 2));
}

TEST_CASE("a table that says nothing of angles is refused with the way out", "[series]") {
  CHECK_THROWS_WITH(read("start, rate\n90, 1000\n-90.4\n"),
                    Contains("found the columns start, rate") && Contains("--columns"));
  CHECK_THROWS_WITH(read("-90.4\n-90.6\n"), Contains("one column") && Contains("--rate"));
  CHECK_THROWS_WITH(read("a,b\n0,1\n", columns({"a", "c"})), Contains("no column c"));
  CHECK_THROWS_WITH(read("a b\n0 1\n1 x\n", columns({"a", "b"})),
                    Contains("line 3, column 2: found \"x\""));
  CHECK_THROWS_WITH(read("0 1\n1 2\n1 3\n"), Contains("line 3, column 1"));
  CHECK_THROWS_WITH(read("a b\n0 1\n", columns({"a"})), Contains("--rate"));
  CHECK_THROWS_WITH(read("# nothing\n"), Contains("no row of numbers"));
}
