// SPDX-License-Identifier: Apache-2.0
#include "series/settled_run.h"

#include "support/temp_folder.h"
#include "support/test.h"

#include <filesystem>
#include <string>
#include <utility>
#include <vector>

using namespace swingloss;
namespace fs = std::filesystem;

namespace {

constexpr const char* kWords = "A best\n";

/// A series with a bar whose clip lies in the folder and one whose clip lies elsewhere.
struct Series {
  test::TempFolder folder;
  SeriesPlan plan;

  Series() {
    folder.write("s/series.json", "{}");
    folder.write("s/rig.json", "{}");
    folder.write("s/specimens.csv",
                 "id,material,clip\nA1,Korvel,a.mp4\nA2,Korvel,../far.mp4\n"
                 "A3,Korvel,../not-yet.mp4\n");
    folder.write("s/clips/a.mp4", "film");
    folder.write("far.mp4", "film");
    folder.write("s/results/swings/A1.json", "{}");
    folder.write("s/results/results.json", "{}");
    plan.folder = folder / "s";
  }

  [[nodiscard]] bool is_settled(const std::string& request = "first order") const {
    return SettledRun(plan, request, {folder / "tool"}).unchanged().has_value();
  }
  void settle() const { SettledRun(plan, "first order", {folder / "tool"}).keep(kWords); }
};

}  // namespace

TEST_CASE("a settled run is said again word for word", "[series]") {
  const Series series;
  CHECK_FALSE(series.is_settled());
  series.settle();
  const auto again =
      SettledRun(series.plan, "first order", {series.folder / "tool"}).unchanged();
  CHECK(again == std::string(kWords));
  CHECK_FALSE(series.is_settled("monte-carlo"));
}

TEST_CASE("a run is settled no more once any file is another", "[series]") {
  const std::vector<std::pair<std::string, std::string>> written = {
      {"s/series.json", "{ }"},
      {"s/specimens.csv", "id,material,clip\nA1,Korvel,a.mp4\n"},
      {"s/masses.csv", "id\n"},
      {"s/clips/a.mp4", "mlif"},
      {"s/a.mp4", "film"},  // now chosen before the one in clips
      {"far.mp4", "mlif"},
      {"not-yet.mp4", "film"},
      {"tool", "a new gnuplot"},
      {"s/results/corrections.json", "{}"},
      {"s/results/swings/A1.json", "{ }"},
      {"s/results/results.json", "}{"},
      {"s/results/settled.json", "{"},
  };
  for (const auto& [name, text] : written) {
    CAPTURE(name);
    const Series series;
    series.settle();
    REQUIRE(series.is_settled());
    series.folder.write(name, text);
    CHECK_FALSE(series.is_settled());
    series.settle();
    CHECK(series.is_settled());
  }
  const Series series;
  series.settle();
  fs::remove(series.folder / "s/results/swings/A1.json");
  CHECK_FALSE(series.is_settled());
}

TEST_CASE("bytes tell files of the last moments that keep size and time", "[series]") {
  const Series series;
  series.settle();
  // What a file system with a clock of coarse steps would show: the same state, other bytes.
  const std::string note = series.folder / "s/results/settled.json";
  std::string text = test::bytes_of(note);
  const std::string clip = series.folder / "s/clips/a.mp4";
  const std::size_t mark = text.find("\": \"4-", text.find(clip));
  REQUIRE(mark != std::string::npos);
  text[mark + 6] = text[mark + 6] == '0' ? '1' : '0';
  series.folder.write("s/results/settled.json", text);
  CHECK_FALSE(series.is_settled());
}

TEST_CASE("a run whose inputs changed under it is not settled", "[series]") {
  const Series series;
  series.settle();
  const SettledRun run(series.plan, "first order", {series.folder / "tool"});
  series.folder.write("s/clips/a.mp4", "mlif");
  run.keep(kWords);
  CHECK_FALSE(fs::exists(series.folder / "s/results/settled.json"));
  CHECK_FALSE(series.is_settled());
}

TEST_CASE("a name that no JSON can hold settles nothing and ends nothing", "[series]") {
  const Series series;
  series.folder.write("s/results/\xff.json", "{}");
  CHECK_NOTHROW(series.settle());
  CHECK_FALSE(fs::exists(series.folder / "s/results/settled.json"));
}

TEST_CASE("a damaged note is passed over", "[series]") {
  for (const char* text : {"", "{", "[]", "7", "{\"format\": 3}"}) {
    const Series series;
    series.folder.write("s/results/settled.json", text);
    CHECK_FALSE(series.is_settled());
  }
}
