// SPDX-License-Identifier: Apache-2.0
#include "core/shell_word.h"

#include "support/run_program.h"
#include "support/test.h"

using namespace swingloss;

TEST_CASE("a plain name stays as it is", "[core]") {
  for (const char* name : {"mine", "a/b-c_2.x", "Meine-\xC3\x96l-Serie"}) {
    CHECK(shell_word(name) == name);
  }
}

TEST_CASE("shell_word comes back from a shell as the same single word", "[core]") {
  for (const char* name : {"Meine \xC3\x96l Serie",
                           "it's",
                           "''",
                           "",
                           "a;rm b",
                           "$HOME",
                           "`x`",
                           "a\\b",
                           "a\nb",
                           "~",
                           "*",
                           "#",
                           "a\"b"}) {
    CAPTURE(name);
    const auto end = test::run_words(
        {"/bin/sh", "-c", "set -- " + shell_word(name) + "; printf '%s:%s' \"$#\" \"$1\""});
    CHECK(end.status == 0);
    CHECK(end.out == "1:" + std::string(name));
  }
  CHECK(shell_word("-n") == "./-n");
}
