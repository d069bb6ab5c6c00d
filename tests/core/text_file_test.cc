// SPDX-License-Identifier: Apache-2.0
#include "core/text_file.h"

#include "core/input_error.h"
#include "support/test.h"

#include <filesystem>

using namespace swingloss;
namespace fs = std::filesystem;

namespace {

/// A folder of this test's own, removed at its end.
class Scratch {
 public:
  explicit Scratch(const std::string& name)
      : folder_(fs::temp_directory_path() / ("swingloss_core_" + name)) {
    fs::remove_all(folder_);
    fs::create_directories(folder_);
  }
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;
  ~Scratch() {
    std::error_code ignored;
    fs::remove_all(folder_, ignored);
  }
  [[nodiscard]] std::string path(const std::string& name) const {
    return (folder_ / name).string();
  }

 private:
  fs::path folder_;
};

}  // namespace

TEST_CASE("what cannot be asked for is not there", "[core]") {
  const Scratch scratch("there");
  CHECK(is_there(scratch.path("")));
  CHECK_FALSE(is_there(scratch.path("a")));
  write_file(scratch.path("a"), "x");
  CHECK(is_there(scratch.path("a")));
  CHECK_FALSE(is_there(scratch.path(std::string(300, 'a'))));  // POSIX: NAME_MAX is 255
}

TEST_CASE("write_file and read_file keep every byte", "[core]") {
  const Scratch scratch("bytes");
  const std::string bytes("a\r\nb\0c\xFF\n", 8);
  const std::string path = scratch.path("new/folder/file.bin");
  write_file(path, bytes);
  CHECK(read_file(path) == bytes);
  write_file(path, "shorter");
  CHECK(read_file(path) == "shorter");
  CHECK_FALSE(fs::exists(path + ".part"));
}

TEST_CASE("read_file names what is wrong", "[core]") {
  const Scratch scratch("faults");
  CHECK_THROWS_WITH(read_file(scratch.path("none.csv")),
                    Catch::Contains("none.csv: found no such file"));
  CHECK_THROWS_WITH(read_file(scratch.path("")), Catch::Contains("found a folder"));
}

TEST_CASE("write_file leaves nothing behind where it cannot write", "[core]") {
  const Scratch scratch("refused");
  write_file(scratch.path("plain"), "x");
  CHECK_THROWS_AS(write_file(scratch.path("plain/below"), "y"), InputError);
  fs::create_directories(scratch.path("taken"));
  CHECK_THROWS_AS(write_file(scratch.path("taken"), "y"), InputError);
  CHECK_FALSE(fs::exists(scratch.path("taken.part")));
  CHECK(read_file(scratch.path("plain")) == "x");
}

TEST_CASE("check_folder_of names the folder that is not there, and makes none", "[core]") {
  const Scratch scratch("check");
  write_file(scratch.path("plain"), "x");
  CHECK_NOTHROW(check_folder_of(scratch.path("new.json")));
  CHECK_NOTHROW(check_folder_of("new.json"));
  CHECK_THROWS_WITH(check_folder_of(scratch.path("none/new.json")),
                    Catch::Contains("folder " + scratch.path("none") + ": found no such") &&
                        Catch::Contains("mkdir -p " + scratch.path("none")));
  CHECK_FALSE(fs::exists(scratch.path("none")));
  CHECK_THROWS_WITH(check_folder_of(scratch.path("plain/new.json")),
                    Catch::Contains("found a file"));
}
