// SPDX-License-Identifier: Apache-2.0
#include "core/whole_file.h"

#include "core/text_file.h"
#include "support/temp_folder.h"
#include "support/test.h"

#include <atomic>
#include <filesystem>
#include <thread>

using namespace swingloss;
using test::TempFolder;

TEST_CASE("writers of one file at once, and a sweeper, never show a torn one", "[core]") {
  const TempFolder folder;
  const std::string path = folder / "sub/K1.json";
  const std::string one(200000, 'a');
  const std::string two(100000, 'b');
  REQUIRE(put_whole_file(path, one, Flushed::No).empty());
  std::atomic<int> at_work{2};
  std::atomic<int> faults{0};
  const auto write = [&](const std::string& bytes) {
    for (int i = 0; i < 200; ++i)
      faults += put_whole_file(path, bytes, Flushed::No).empty() ? 0 : 1;
    --at_work;
  };
  std::thread first(write, one);
  std::thread second(write, two);
  int torn = 0;
  while (at_work > 0) {
    const std::string seen = read_file(path);
    if (seen != one && seen != two) ++torn;
    remove_half_files(folder.path());
  }
  first.join();
  second.join();
  CHECK(torn == 0);
  CHECK(faults == 0);
  remove_half_files(folder.path());
  CHECK(std::distance(std::filesystem::directory_iterator(folder / "sub"),
                      std::filesystem::directory_iterator()) == 1);
}

TEST_CASE("only half files of this program are swept", "[core]") {
  const TempFolder folder;
  for (const char* name : {"K1.part-2.json", "a.json.part", "b.json.part-x", "K1.json"})
    folder.write(name, "x");
  folder.write("deep/er/K1.json.part-some_host-12-3", "x");
  remove_half_files(folder.path());
  for (const char* name : {"K1.part-2.json", "a.json.part", "b.json.part-x", "K1.json"})
    CHECK(std::filesystem::exists(folder / name));
  CHECK_FALSE(std::filesystem::exists(folder / "deep/er/K1.json.part-some_host-12-3"));
}

TEST_CASE("a place that cannot be written is told and left as it was", "[core]") {
  const TempFolder folder;
  folder.write("plain", "x");
  CHECK_FALSE(put_whole_file(folder / "plain/below", "y", Flushed::Yes).empty());
  std::filesystem::create_directories(folder / "taken");
  CHECK_FALSE(put_whole_file(folder / "taken", "y", Flushed::Yes).empty());
  CHECK(std::distance(std::filesystem::directory_iterator(folder.path()),
                      std::filesystem::directory_iterator()) == 2);
}
