// SPDX-License-Identifier: Apache-2.0
#include "core/number_text.h"

#include "support/test.h"

#include <cstring>
#include <limits>
#include <locale>
#include <random>
#include <stdexcept>

using namespace swingloss;

TEST_CASE("number_text reads back as the same number", "[core]") {
  std::mt19937_64 bits(3);
  for (int i = 0; i < 10000; ++i) {
    const std::uint64_t pattern = bits();
    double number = 0.0;
    std::memcpy(&number, &pattern, sizeof number);
    if (!(number - number == 0.0)) continue;  // not finite
    const std::optional<double> back = parse_number(number_text(number));
    REQUIRE(back.has_value());
    REQUIRE(*back == number);
  }
}

TEST_CASE("number_text is the shortest and has no negative zero", "[core]") {
  CHECK(number_text(0.1) == "0.1");
  CHECK(number_text(1.0) == "1");
  CHECK(number_text(-2.5) == "-2.5");
  CHECK(number_text(1e300) == "1e+300");
  CHECK(number_text(-0.0) == "0");
  CHECK_THROWS_AS(number_text(std::numeric_limits<double>::infinity()), std::logic_error);
  CHECK_THROWS_AS(number_text(std::numeric_limits<double>::quiet_NaN()), std::logic_error);
}

TEST_CASE("fixed_text keeps its decimals", "[core]") {
  CHECK(fixed_text(3.14159, 2) == "3.14");
  CHECK(fixed_text(2.0, 3) == "2.000");
  CHECK(fixed_text(-0.001, 2) == "0.00");
  CHECK(fixed_text(-0.006, 2) == "-0.01");
  CHECK(fixed_text(1e22, 0) == "10000000000000000000000");
  CHECK(fixed_text(std::numeric_limits<double>::max(), 40).size() == 309 + 1 + 40);
  CHECK_THROWS_AS(fixed_text(1.0, -1), std::logic_error);
}

TEST_CASE("significant_text counts digits from the first that is not zero", "[core]") {
  CHECK(significant_text(1234.0, 2) == "1200");
  CHECK(significant_text(0.00123456, 3) == "0.00123");
  CHECK(significant_text(0.0996, 2) == "0.10");
  CHECK(significant_text(9.96, 2) == "10");
  CHECK(significant_text(-45.67, 3) == "-45.7");
  CHECK(significant_text(0.0, 3) == "0");
}

TEST_CASE("rounded_number is the number that significant_text spells", "[core]") {
  CHECK(rounded_number(1234.0, 2) == 1200.0);
  CHECK(rounded_number(-45.67, 3) == -45.7);
  CHECK(rounded_number(0.1, 6) == 0.1);
  CHECK(rounded_number(0.0, 6) == 0.0);
  CHECK(rounded_number(1.23456789e-9, 3) == 1.23e-9);
}

TEST_CASE("format_with_u rounds value and uncertainty together", "[core][truth]") {
  // [JCGM100] 7.2.6: u to at most two digits, the value to the same place; its example in
  // 7.2.2: m = 100.021 47 g with u = 0.35 mg.
  const auto check = [](double value, double u, const char* value_text, const char* u_text) {
    const ValueText text = format_with_u(value, u);
    CHECK(text.value == value_text);
    CHECK(text.u == u_text);
  };
  check(100.02147, 0.00035, "100.02147", "0.00035");
  check(12.3456, 0.0471, "12.346", "0.047");
  check(50000838.0, 1234.0, "50000800", "1200");
  check(2.5, 0.0996, "2.50", "0.10");
  check(0.04, 12.0, "0", "12");
  check(-1.23456, 0.5, "-1.23", "0.50");
  check(3.0, 0.0, "3", "0");
  CHECK_THROWS_AS(format_with_u(1.0, -0.1), std::logic_error);
}

TEST_CASE("parse_number takes the whole text or nothing", "[core]") {
  CHECK(parse_number("12.5") == 12.5);
  CHECK(parse_number("  +12.5e-1\t") == 1.25);
  CHECK(parse_number("-.5") == -0.5);
  CHECK(parse_number("5.") == 5.0);
  CHECK(parse_number("\xE2\x88\x92"
                     "3") == -3.0);
  CHECK(parse_number("\xC2\xA0"
                     "7\xC2\xA0") == 7.0);
  CHECK(parse_number("2,5", ',') == 2.5);
  for (const char* text : {"",
                           " ",
                           "abc",
                           "1.2.3",
                           "1 2",
                           "nan",
                           "inf",
                           "-inf",
                           "0x10",
                           "1e",
                           "--1",
                           "+-1",
                           "1,5",
                           "1e999",
                           ".",
                           "-",
                           "4 mm",
                           "1e5e5"}) {
    CAPTURE(text);
    CHECK_FALSE(parse_number(text).has_value());
  }
  CHECK_FALSE(parse_number("2.5", ',').has_value());
  CHECK_FALSE(parse_number("1.234,5", ',').has_value());
}

TEST_CASE("numbers do not follow the machine's locale", "[core]") {
  const std::locale before;
  for (const char* name : {"de_DE.UTF-8", "fr_FR.UTF-8", "C.UTF-8"}) {
    try {
      std::locale::global(std::locale(name));  // of C's functions, too
    } catch (const std::runtime_error&) {
      continue;  // not installed here
    }
    CHECK(number_text(0.5) == "0.5");
    CHECK(fixed_text(1234.5, 1) == "1234.5");
    CHECK(parse_number("0.5") == 0.5);
  }
  std::locale::global(before);
}
