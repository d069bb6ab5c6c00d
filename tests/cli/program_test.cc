// SPDX-License-Identifier: Apache-2.0
#include "support/run_program.h"
#include "support/test.h"

#include <algorithm>
#include <regex>

using namespace swingloss;
using Catch::Contains;
using test::run_program;
using test::TempFolder;

namespace {

const std::vector<std::string> kCommands = {"run", "swing", "rig", "rank", "plan", "new", "demo"};

}  // namespace

TEST_CASE("the version option prints the version: --version is the version of the build",
          "[cli]") {
  const std::string build = test::bytes_of(SWINGLOSS_SOURCE_DIR "/CMakeLists.txt");
  std::smatch version;
  REQUIRE(
      std::regex_search(build, version, std::regex("project\\(swingloss VERSION ([0-9.]+)")));
  const auto end = run_program({"--version"});
  CHECK(end.status == 0);
  CHECK(end.out == "swingloss " + version[1].str() + "\n");
}

TEST_CASE("help names every command, and every command's help has an example", "[cli]") {
  const auto help = run_program({"--help"});
  CHECK(help.status == 0);
  CHECK_THAT(help.out, Contains("Exit codes") && Contains("Example"));
  for (const std::string& command : kCommands) {
    CAPTURE(command);
    CHECK_THAT(help.out, Contains("  " + command + " "));
    const auto own = run_program({command, "--help"});
    CHECK(own.status == 0);
    CHECK(own.err.empty());
    CHECK_THAT(own.out, Contains("Example") && Contains("\n  swingloss " + command + " "));
  }
}

TEST_CASE("wrong use is exit 2 with a next step and nothing on stdout", "[cli]") {
  const std::vector<std::vector<std::string>> wrong = {{},
                                                       {"measure"},
                                                       {"--loud"},
                                                       {"run"},
                                                       {"swing", "--jobs", "many", "a.mp4"},
                                                       {"swing", "a.mp4", "--mode", "magic"},
                                                       {"rank", "a.csv", "--confidence", "95"},
                                                       {"swing"},
                                                       {"swing", "a.mp4", "--track", "b.csv"}};
  for (const auto& arguments : wrong) {
    const auto end = run_program(arguments);
    CAPTURE(end.err);
    CHECK(end.status == 2);
    CHECK(end.out.empty());
    CHECK_THAT(end.err,
               Contains("swingloss: command line: found ") && Contains("wanted") &&
                   Contains("--help"));
  }
}

TEST_CASE("errors are one line, without an address or a source line", "[cli]") {
  for (const std::string command : {"run", "swing", "rig", "rank"}) {
    const auto end = run_program({command, "no-such-thing"});
    CAPTURE(command, end.err);
    CHECK(end.status == 2);
    CHECK(std::count(end.err.begin(), end.err.end(), '\n') == 1);
    CHECK_THAT(end.err,
               Contains("swingloss: no-such-thing") && Contains("found no such") &&
                   Contains("wanted"));
    CHECK_THAT(end.err, !Contains(".cc:") && !Contains("terminate") && !Contains("0x"));
  }
}

TEST_CASE("results that find no room are an error, not a success", "[cli]") {
  const TempFolder folder;
  const std::string table = folder.write("t.csv", "id,material,energy_J\n1,A,1\n2,A,2\n");
  const auto end = test::run_words(
      {"/bin/sh", "-c", std::string(SWINGLOSS_PROGRAM) + " rank t.csv > /dev/full"},
      folder.path());
  CHECK(end.status == 2);
  CHECK_THAT(end.err, Contains("standard output"));
}

TEST_CASE("new writes a series whose holes are named when it is run", "[cli]") {
  const TempFolder folder;
  const auto made = run_program({"new", "mine"}, folder.path());
  CHECK(made.status == 0);
  CHECK_THAT(made.out, Contains("FIELDS.md") && Contains("swingloss run mine"));
  CHECK(std::filesystem::exists(folder / "mine/specimens.csv"));
  const auto run = run_program({"run", "mine"}, folder.path());
  CHECK(run.status == 2);
  CHECK_THAT(run.err, Contains("mine/specimens.csv") && Contains("no bars"));
  const auto rig = run_program({"rig", "mine/rig.json"}, folder.path());
  CHECK(rig.status == 2);
  CHECK_THAT(rig.err, Contains("mine/rig.json") && Contains("moment_Nm") && Contains("wanted"));
  const auto again = run_program({"new", "mine"}, folder.path());
  CHECK(again.status == 2);
  CHECK_THAT(again.err, Contains("found something that is there already"));
}
