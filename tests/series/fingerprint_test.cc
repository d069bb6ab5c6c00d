// SPDX-License-Identifier: Apache-2.0
#include "series/fingerprint.h"

#include "core/input_error.h"
#include "support/temp_folder.h"
#include "support/test.h"

using namespace swingloss;
using test::TempFolder;

TEST_CASE("fnv1a gives the published hashes", "[series][truth]") {
  // Test vectors of the FNV authors' reference code (test_fnv.c, 64-bit FNV-1a); values from
  // memory, checked with a second implementation in another language.
  CHECK(fnv1a("") == 0xcbf29ce484222325ULL);
  CHECK(fnv1a("a") == 0xaf63dc4c8601ec8cULL);
  CHECK(fnv1a("foobar") == 0x85944171f73967e8ULL);
}

TEST_CASE("fnv1a may be taken in pieces", "[series]") {
  CHECK(fnv1a("bar", fnv1a("foo")) == fnv1a("foobar"));
}

TEST_CASE("content_mark tells a changed file, byte or length, from an unchanged one",
          "[series]") {
  const TempFolder folder;
  const std::string path = folder.write("clip", "abc");
  const std::string mark = content_mark(path);
  CHECK(mark.substr(0, 2) == "3-");
  CHECK(content_mark(folder.write("same", "abc")) == mark);
  CHECK(content_mark(folder.write("other", "abd")) != mark);
  CHECK(content_mark(folder.write("longer", std::string("abc\0", 4))) != mark);
}

TEST_CASE("content_mark of a folder of pictures sees names, order and bytes", "[series]") {
  const TempFolder folder;
  folder.write("clip/1.png", "a");
  folder.write("clip/2.png", "b");
  const std::string mark = content_mark(folder / "clip");
  folder.write("swapped/1.png", "b");
  folder.write("swapped/2.png", "a");
  CHECK(content_mark(folder / "swapped") != mark);
  folder.write("clip/3.png", "");
  CHECK(content_mark(folder / "clip") != mark);
}

TEST_CASE("content_mark names a file that is not there", "[series]") {
  CHECK_THROWS_AS(content_mark("no-such-clip.mp4"), InputError);
}
