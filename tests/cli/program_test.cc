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

const std::vector<std::string> kCommands = {"run",
                                            "collect",
                                            "swing",
                                            "rig",
                                            "rank",
                                            "plan",
                                            "new",
                                            "demo",
                                            "surface",
                                            "sheet",
                                            "completion",
                                            "manual"};

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
    CHECK_THAT(own.out, Contains("-q,--quiet") && Contains("-j,--jobs"));
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

TEST_CASE("a slip in the command line is named with what was most likely meant", "[cli]") {
  CHECK_THAT(run_program({"rnak", "x.csv"}).err,
             Contains("found \"rnak\", which is no command; wanted one of run, collect, ") &&
                 Contains(". Did you mean rank? See: swingloss --help\n"));
  CHECK_THAT(run_program({"--jobs", "1", "sving"}).err, Contains("Did you mean swing?"));
  CHECK_THAT(run_program({"xyzzy"}).err, Contains("\"xyzzy\"") && !Contains("Did you mean"));
  CHECK_THAT(run_program({"rank", "x.csv", "--whithin=0.2"}).err,
             Contains("\"--whithin\", which is no option of swingloss rank") &&
                 Contains("Did you mean --within?"));
}

TEST_CASE("a decimal comma in a number is answered with a decimal point", "[cli]") {
  for (const std::vector<std::string>& words :
       {std::vector<std::string>{"rank", "x.csv", "--within", "0,2"},
        std::vector<std::string>{"rank", "x.csv", "--within=0,2"}}) {
    const auto end = run_program(words);
    CHECK(end.status == 2);
    CHECK_THAT(end.err, Contains("0,2") && Contains("Write 0.2. See: swingloss rank --help"));
  }
}

TEST_CASE("common options stand before a command or after it", "[cli]") {
  const TempFolder folder;
  folder.write("t.csv", "id,material,energy_J\n1,A,1\n2,A,2\n");
  CHECK(run_program({"-q", "rank", "t.csv"}, folder.path()).out.empty());
  CHECK(run_program({"rank", "t.csv", "-q", "-j", "2"}, folder.path()).out.empty());
  CHECK_FALSE(run_program({"rank", "t.csv"}, folder.path()).out.empty());
}

TEST_CASE("a result is not put into a folder that is not there", "[cli]") {
  const TempFolder folder;
  folder.write("t.csv", "id,material,energy_J\n1,A,1\n2,A,2\n");
  const std::vector<std::vector<std::string>> commands = {
      {"rank", "t.csv", "--json", "none/x.json"},
      {"plan", "--cv", "0.1", "--json", "none/x.json"},
      {"swing", "a.mp4", "--json", "none/x.json"},
      {"rig", "rig.json", "--write", "none/x.json"}};
  for (const auto& words : commands) {
    const auto end = run_program(words, folder.path());
    CAPTURE(words.front(), end.err);
    CHECK(end.status == 2);
    CHECK(end.out.empty());
    CHECK_THAT(end.err, Contains("none/x.json: folder none: found no such folder"));
    CHECK_FALSE(std::filesystem::exists(folder / "none"));
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

TEST_CASE("the next command that new prints can be pasted", "[cli]") {
  const TempFolder folder;
  const auto made = run_program({"new", "Meine \xC3\x96l Serie"}, folder.path());
  CHECK_THAT(made.out, Contains("swingloss run 'Meine \xC3\x96l Serie'\n"));
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
