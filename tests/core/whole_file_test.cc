// SPDX-License-Identifier: Apache-2.0
#include "core/whole_file.h"

#include "core/text_file.h"
#include "support/temp_folder.h"
#include "support/test.h"

#include <atomic>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <thread>
#include <vector>

#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

using namespace swingloss;
using test::TempFolder;
namespace fs = std::filesystem;

namespace {

/// What a machine that knows nothing of the processes here would sweep away.
void remove_all_halves(const std::string& folder) {
  std::error_code fault;
  std::vector<fs::path> halves;
  for (const auto& entry : fs::directory_iterator(folder, fault)) {
    if (entry.path().string().find(".part-") != std::string::npos)
      halves.push_back(entry.path());
  }
  for (const fs::path& half : halves) fs::remove(half, fault);
}

}  // namespace

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
    remove_all_halves(folder / "sub");
  }
  first.join();
  second.join();
  CHECK(torn == 0);
  CHECK(faults == 0);
  CHECK(std::distance(fs::directory_iterator(folder / "sub"), fs::directory_iterator()) == 1);
}

TEST_CASE("only half files of this program are swept", "[core]") {
  const TempFolder folder;
  for (const char* name : {"K1.part-2.json", "a.json.part", "b.json.part-x", "K1.json"})
    folder.write(name, "x");
  folder.write("deep/er/K1.json.part-some_host-12-3", "x");
  remove_half_files(folder.path());
  for (const char* name : {"K1.part-2.json", "a.json.part", "b.json.part-x", "K1.json"})
    CHECK(fs::exists(folder / name));
  CHECK_FALSE(fs::exists(folder / "deep/er/K1.json.part-some_host-12-3"));
}

TEST_CASE("a half file stays while its process runs and goes when it is over", "[core]") {
  const TempFolder folder;
  const std::string film = folder / "K1.mp4";
  const std::string own = half_file_beside(film);
  CHECK(own != half_file_beside(film));
  folder.write(fs::path(own).filename().string(), "x");
  const pid_t child = ::fork();
  if (child == 0) ::_exit(0);
  REQUIRE(::waitpid(child, nullptr, 0) == child);
  std::string dead = own;
  const std::string mine = "-" + std::to_string(::getpid()) + "-";
  dead.replace(dead.rfind(mine), mine.size(), "-" + std::to_string(child) + "-");
  folder.write(fs::path(dead).filename().string(), "x");
  remove_half_files(folder.path());
  CHECK(fs::exists(own));
  CHECK_FALSE(fs::exists(dead));
}

TEST_CASE("a pipe is written to and stays a pipe", "[core]") {
  const TempFolder folder;
  const std::string pipe = folder.path() + "/pipe";
  REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
  CHECK(is_device_or_pipe(pipe));
  std::string read;
  std::thread reader([&] {
    std::ifstream in(pipe, std::ios::binary);
    read.assign(std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>());
  });
  CHECK(put_whole_file(pipe, "what was measured", Flushed::No).empty());
  reader.join();
  CHECK(read == "what was measured");
  CHECK(is_device_or_pipe(pipe));
}

TEST_CASE("what is a file, a folder or nothing is no device", "[core]") {
  const TempFolder folder;
  folder.write("file", "x");
  CHECK_FALSE(is_device_or_pipe(folder.path() + "/file"));
  CHECK_FALSE(is_device_or_pipe(folder.path()));
  CHECK_FALSE(is_device_or_pipe(folder.path() + "/nothing"));
  CHECK(is_device_or_pipe("/dev/null"));
}

TEST_CASE("a place that cannot be written is told and left as it was", "[core]") {
  const TempFolder folder;
  folder.write("plain", "x");
  CHECK_FALSE(put_whole_file(folder / "plain/below", "y", Flushed::Yes).empty());
  fs::create_directories(folder / "taken");
  CHECK_FALSE(put_whole_file(folder / "taken", "y", Flushed::Yes).empty());
  CHECK(std::distance(fs::directory_iterator(folder.path()), fs::directory_iterator()) == 2);
}
