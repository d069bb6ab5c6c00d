// SPDX-License-Identifier: Apache-2.0
#include "core/file_states.h"

#include "support/temp_folder.h"
#include "support/test.h"

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include <fcntl.h>
#include <sys/stat.h>

using namespace swingloss;
namespace fs = std::filesystem;

namespace {

std::string text_of(const std::string& path) {
  FileStates states;
  states.add(path);
  return states.text();
}

/// Sets back when a file was written, as a copy that keeps times or a clock set back would.
void set_time(const std::string& path, const timespec& time) {
  const timespec times[] = {time, time};
  REQUIRE(::utimensat(AT_FDCWD, path.c_str(), times, 0) == 0);
}

}  // namespace

TEST_CASE("states of files tell every way in which one can change", "[core]") {
  const test::TempFolder folder;
  const std::string file = folder.write("s/a.txt", "one");
  folder.write("s/sub/b.txt", "two");
  folder.write("elsewhere.txt", "far");
  fs::create_symlink(folder / "elsewhere.txt", folder / "s/link.txt");
  const std::string root = folder / "s";
  const std::string before = text_of(root);
  CHECK(text_of(root) == before);
  struct stat was {};
  REQUIRE(::stat(file.c_str(), &was) == 0);
  const std::int64_t then_ns = changed_ns(file);
  const std::vector<std::function<void()>> changes = {
      [&] {  // same size, same time: as an editor that keeps times
        do {
          folder.write("s/a.txt", "eno");
          set_time(file, was.st_mtim);
        } while (changed_ns(file) == then_ns);
      },
      [&] { folder.write("s/a.txt", "three"); },
      [&] { folder.write("s/sub/c.txt", ""); },
      [&] { fs::remove(folder / "s/sub/b.txt"); },
      [&] { fs::rename(folder / "s/sub", folder / "s/bus"); },
      [&] { folder.write("elsewhere.txt", "further"); },
      [&] { fs::permissions(file, fs::perms::owner_read); },
  };
  std::string last = before;
  for (const auto& change : changes) {
    change();
    const std::string now = text_of(root);
    CHECK(now != last);
    last = now;
  }
}

TEST_CASE("what is left out of the states is not looked at, nor what is below it", "[core]") {
  const test::TempFolder folder;
  folder.write("s/a.txt", "one");
  folder.write("s/results/x/y.txt", "two");
  folder.write("s/results-old.txt", "three");
  const auto mark = [&] {
    FileStates states;
    states.add(folder / "s");
    states.leave_out(folder / "s/results");
    return states.text();
  };
  const std::string before = mark();
  folder.write("s/results/x/y.txt", "other bytes");
  folder.write("s/results/z.txt", "");
  CHECK(mark() == before);
  folder.write("s/results-old.txt", "other bytes");
  CHECK(mark() != before);
}

TEST_CASE("a place with nothing is a state too", "[core]") {
  const test::TempFolder folder;
  const std::string before = text_of(folder / "gone.mp4");
  folder.write("gone.mp4", "here");
  CHECK(text_of(folder / "gone.mp4") != before);
  CHECK(changed_ns(folder / "not there") == 0);
}

TEST_CASE("files written since a moment are named, folders are not", "[core]") {
  const test::TempFolder folder;
  const std::string first = folder.write("s/a.txt", "one");
  const std::int64_t moment = changed_ns(first) + 1;
  while (changed_ns(folder.write("s/b.txt", "two")) < moment) {
  }
  FileStates states;
  states.add(folder / "s");
  CHECK(states.since(moment) == std::vector<std::string>{folder / "s/b.txt"});
  CHECK(states.since(changed_ns(first)) ==
        std::vector<std::string>{folder / "s/a.txt", folder / "s/b.txt"});
}
