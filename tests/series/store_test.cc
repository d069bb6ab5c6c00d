// SPDX-License-Identifier: Apache-2.0
#include "series/store.h"

#include "core/input_error.h"
#include "series/swing_json.h"
#include "support/temp_folder.h"
#include "support/test.h"
#include "swing_samples.h"

using namespace swingloss;
using test::TempFolder;

namespace {

std::size_t files_in(const std::string& folder) {
  std::size_t count = 0;
  for ([[maybe_unused]] const auto& entry :
       std::filesystem::recursive_directory_iterator(folder)) {
    if (entry.is_regular_file()) ++count;
  }
  return count;
}

}  // namespace

TEST_CASE("a stored swing is used again while its inputs are the same", "[series]") {
  const TempFolder folder;
  const std::string path = folder / "results/swings/K1.json";
  CHECK_FALSE(stored_swing(path, "one").has_value());
  const SwingRecord kept = keep_swing(path, "one", test::broken_swing());
  const auto again = stored_swing(path, "one");
  REQUIRE(again.has_value());
  CHECK(swing_json(*again) == swing_json(kept));
  CHECK_FALSE(stored_swing(path, "two").has_value());
  CHECK(files_in(folder.path()) == 1);
}

TEST_CASE("a damaged stored swing is as good as none", "[series]") {
  const TempFolder folder;
  const std::string path = folder / "K1.json";
  keep_swing(path, "one", test::broken_swing());
  const std::string text = test::bytes_of(path);
  for (const std::string& damaged : {std::string(),
                                     text.substr(0, text.size() / 2),
                                     std::string("not JSON"),
                                     std::string(1000, '\0')}) {
    folder.write("K1.json", damaged);
    CHECK_FALSE(stored_swing(path, "one").has_value());
  }
}

TEST_CASE("a place that cannot be written is named and nothing is left behind", "[series]") {
  const TempFolder folder;
  folder.write("results", "a file where the folder should be");
  CHECK_THROWS_AS(keep_swing(folder / "results/K1.json", "one", test::broken_swing()),
                  InputError);
  CHECK(files_in(folder.path()) == 1);
  std::filesystem::create_directories(folder / "taken/K1.json");
  CHECK_THROWS_AS(keep_swing(folder / "taken/K1.json", "one", test::broken_swing()),
                  InputError);
  CHECK(files_in(folder.path()) == 1);
}

TEST_CASE("the inputs' mark changes with the clip and with the rig", "[series]") {
  const TempFolder folder;
  const std::string clip = folder.write("a.mp4", "film");
  const std::string mark = inputs_mark(clip, "12-ab");
  CHECK(inputs_mark(clip, "12-ab") == mark);
  CHECK(inputs_mark(clip, "12-ac") != mark);
  CHECK(inputs_mark(folder.write("b.mp4", "film"), "12-ab") == mark);  // a renamed clip
  CHECK(inputs_mark(folder.write("a.mp4", "Film"), "12-ab") != mark);
}

TEST_CASE("forget_swing takes a stale result away and bears its absence", "[series]") {
  const TempFolder folder;
  const std::string path = folder.write("K1.json", "old");
  forget_swing(path);
  CHECK_FALSE(std::filesystem::exists(path));
  CHECK_NOTHROW(forget_swing(path));
}
