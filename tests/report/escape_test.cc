// SPDX-License-Identifier: Apache-2.0
#include "report/escape.h"

#include "report/invented_series.h"
#include "report/run_gnuplot.h"
#include "support/test.h"

#include <algorithm>

namespace swingloss {

TEST_CASE("html_text leaves no character that could begin markup or end an attribute",
          "[report]") {
  const std::string text = html_text("<a href=\"x\" on='y'>&amp;");
  CHECK(text == "&lt;a href=&quot;x&quot; on=&#39;y&#39;&gt;&amp;amp;");
  CHECK(html_text(test::hostile_name()).find_first_of("<>\"'") == std::string::npos);
}

TEST_CASE("clean_text keeps every letter of valid UTF-8", "[report]") {
  const std::string text = "Zähigkeit Ω 漢字 \U0001F528";
  CHECK(clean_text(text) == text);
}

TEST_CASE("clean_text mends what is not UTF-8", "[report]") {
  const std::string mark = "\xEF\xBF\xBD";
  // Cases of RFC 3629, section 3 and 4: continuation alone, overlong slash, surrogate, above
  // U+10FFFF, cut off.
  CHECK(clean_text("a\x80z") == "a" + mark + "z");
  CHECK(clean_text("\xC0\xAF") == mark + mark);
  CHECK(clean_text("\xED\xA0\x80") == mark + mark + mark);
  CHECK(clean_text("\xF4\x90\x80\x80") == mark + mark + mark + mark);
  CHECK(clean_text("\xE2\x82") == mark + mark);
}

TEST_CASE("clean_text takes control characters and direction overrides away", "[report]") {
  CHECK(clean_text(std::string("a\0b\n\t\x7F\xC2\x85 c", 10)) == "a b     c");
  CHECK(clean_text("x\u202Ey\u2066z") == "xyz");
}

TEST_CASE("spreadsheet_text disarms formulas and leaves temperatures alone", "[report]") {
  CHECK(spreadsheet_text("=1+1") == "'=1+1");
  CHECK(spreadsheet_text("@SUM(A1)") == "'@SUM(A1)");
  CHECK(spreadsheet_text("-2+3+cmd|' /C calc'!A0") == "'-2+3+cmd|' /C calc'!A0");
  CHECK(spreadsheet_text("-20 °C") == "-20 °C");
  CHECK(spreadsheet_text("+5 % fibre") == "+5 % fibre");
  CHECK(spreadsheet_text("") == "");
}

// gnuplot itself is the judge: what it prints is what it understood.
TEST_CASE("gnuplot reads a gnuplot_string as exactly the text", "[report]") {
  const std::string all =
      "`id` $(id) @x \"q\" 'q' \\n \\0 %d %s {/Bold x} _1^2 12:34 # comment ä 漢 \U0001F528";
  CHECK(run_gnuplot("set encoding utf8\nset print \"-\"\nprint " + gnuplot_string(all) +
                    "\n") == all + "\n");
}

TEST_CASE("no byte of a gnuplot_string is one that gnuplot's parser acts on", "[report]") {
  std::string every;
  for (int byte = 1; byte < 256; ++byte) every += static_cast<char>(byte);
  const std::string quoted = gnuplot_string(every);
  const std::string inside = quoted.substr(1, quoted.size() - 2);
  CHECK(std::all_of(inside.begin(), inside.end(), [](char c) {
    return c == '\\' || c == ' ' || (c >= '0' && c <= '7') || (c >= 'a' && c <= 'z') ||
           (c >= 'A' && c <= 'Z');
  }));
}

TEST_CASE("shortened counts letters, not bytes", "[report]") {
  CHECK(shortened("äöüß", 4) == "äöüß");
  CHECK(shortened("äöüßa", 4) == "äöü…");
  CHECK(length_in_code_points("漢字\U0001F528") == 3);
}

}  // namespace swingloss
