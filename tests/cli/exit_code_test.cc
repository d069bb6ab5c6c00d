// SPDX-License-Identifier: Apache-2.0
#include "cli/program.h"
#include "core/expects.h"
#include "core/input_error.h"
#include "support/test.h"

#include <iostream>
#include <sstream>

using namespace swingloss;
using Catch::Contains;

namespace {

/// What goes to stderr while it lives.
class Overheard {
 public:
  Overheard() : before_(std::cerr.rdbuf(text_.rdbuf())) {}
  Overheard(const Overheard&) = delete;
  Overheard& operator=(const Overheard&) = delete;
  ~Overheard() { std::cerr.rdbuf(before_); }
  [[nodiscard]] std::string text() const { return text_.str(); }

 private:
  std::ostringstream text_;
  std::streambuf* before_;
};

}  // namespace

TEST_CASE("a fault of our own is exit 3 and one line", "[cli]") {
  const Overheard overheard;
  CHECK(exit_code_of([]() -> ExitCode {
          expects(false, "two\nlines");
          return ExitCode::Done;
        }) == 3);
  CHECK(overheard.text() ==
        "swingloss: an internal fault (two lines). Please report it with the command line and "
        "its "
        "input.\n");
  CHECK(exit_code_of([]() -> ExitCode { throw 7; }) == 3);
}

TEST_CASE("unusable input is exit 2 and its five parts in one line", "[cli]") {
  const Overheard overheard;
  CHECK(exit_code_of([]() -> ExitCode {
          throw InputError({"a.csv", "row 3", "x", "y", "Do z."});
        }) == 2);
  CHECK(overheard.text() == "swingloss: a.csv: row 3: found x; wanted y. Do z.\n");
}

TEST_CASE("what a command ended with is the exit code", "[cli]") {
  CHECK(exit_code_of([] { return ExitCode::Done; }) == 0);
  CHECK(exit_code_of([] { return ExitCode::SomeRefused; }) == 1);
}
