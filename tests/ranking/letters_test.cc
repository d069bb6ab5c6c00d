// SPDX-License-Identifier: Apache-2.0
#include "ranking/letters.h"

#include "support/test.h"

#include <random>
#include <set>

using namespace swingloss;

namespace {

using Pairs = std::vector<std::pair<std::size_t, std::size_t>>;

bool share_a_letter(const std::string& a, const std::string& b) {
  return a.find_first_of(b) != std::string::npos;
}

bool listed(const Pairs& pairs, std::size_t a, std::size_t b) {
  for (const auto& [i, j] : pairs) {
    if ((i == a && j == b) || (i == b && j == a)) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("compact_letters agrees with multcompView", "[truth]") {
  // R package multcompView 0.1-8, multcompLetters at 0.05. Its letters are named by another
  // order; which groups share one is what counts.
  CHECK(compact_letters(4, {{0, 2}, {0, 3}, {1, 3}}) ==
        std::vector<std::string>{"a", "ab", "bc", "c"});
  // a-b, a-d, c-d differ: R gives a: a, b: bc, c: ab, d: c.
  CHECK(compact_letters(4, {{0, 1}, {0, 3}, {2, 3}}) ==
        std::vector<std::string>{"a", "bc", "ab", "c"});
  CHECK(compact_letters(3, {}) == std::vector<std::string>{"a", "a", "a"});
}

TEST_CASE("groups share a letter exactly when they do not differ") {
  std::mt19937_64 bits(7);
  for (int trial = 0; trial < 200; ++trial) {
    const std::size_t groups = 2 + bits() % 7;
    Pairs different;
    for (std::size_t a = 0; a < groups; ++a) {
      for (std::size_t b = a + 1; b < groups; ++b) {
        if (bits() % 2 == 0) different.emplace_back(a, b);
      }
    }
    const std::vector<std::string> letters = compact_letters(groups, different);
    CHECK(letters.front().front() == 'a');
    for (std::size_t a = 0; a < groups; ++a) {
      for (std::size_t b = a + 1; b < groups; ++b) {
        CAPTURE(trial, a, b, letters[a], letters[b]);
        CHECK(share_a_letter(letters[a], letters[b]) != listed(different, a, b));
      }
    }
  }
}

TEST_CASE("no letter lies within another") {
  std::mt19937_64 bits(8);
  for (int trial = 0; trial < 100; ++trial) {
    Pairs different;
    for (std::size_t a = 0; a < 6; ++a) {
      for (std::size_t b = a + 1; b < 6; ++b) {
        if (bits() % 3 != 0) different.emplace_back(a, b);
      }
    }
    const std::vector<std::string> letters = compact_letters(6, different);
    std::set<char> all;
    for (const std::string& text : letters) all.insert(text.begin(), text.end());
    for (const char one : all) {
      for (const char other : all) {
        if (one == other) continue;
        bool within = true;
        for (const std::string& text : letters) {
          if (text.find(one) != std::string::npos && text.find(other) == std::string::npos) {
            within = false;
          }
        }
        CHECK_FALSE(within);
      }
    }
  }
}

TEST_CASE("letters go on after z") {
  Pairs all_differ;
  for (std::size_t a = 0; a < 60; ++a) {
    for (std::size_t b = a + 1; b < 60; ++b) all_differ.emplace_back(a, b);
  }
  const std::vector<std::string> letters = compact_letters(60, all_differ);
  CHECK(letters[25] == "z");
  CHECK(letters[26] == "A");
  CHECK(letters[52] == "a2");
  CHECK(compact_letters(0, {}).empty());
  CHECK_THROWS_AS(compact_letters(2, {{0, 2}}), std::logic_error);
}
