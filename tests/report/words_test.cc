// SPDX-License-Identifier: Apache-2.0
#include "report/words.h"

#include "core/angle.h"
#include "support/test.h"

namespace swingloss {
namespace {

Uncertain value(double x, double u) { return Uncertain::from(x, u, "source", SourceKind::Own); }

}  // namespace

TEST_CASE("a value is shown with two digits of its uncertainty and the unit", "[report]") {
  CHECK(with_u_words(value(1.23456, 0.0123), "J") == "1.235\u00A0±\u00A00.012\u00A0J");
  CHECK(with_u_words(value(-0.5, 0.1), "J") == "\u22120.50\u00A0±\u00A00.10\u00A0J");
  CHECK(with_u_words(Uncertain::exact(2.5), "J") == "2.500\u00A0J");
}

TEST_CASE("angles are shown in degrees", "[report]") {
  CHECK(angle_words(value(kPi / 2.0, kPi / 1800.0)) == "90.00\u00A0±\u00A00.10°");
}

TEST_CASE("extreme probabilities are not rounded into certainty", "[report]") {
  CHECK(percent_words(0.9994) == "> 99.9\u00A0%");
  CHECK(percent_words(0.994) == "99.4\u00A0%");
  CHECK(percent_words(0.004) == "0.4\u00A0%");
  CHECK(percent_words(1.0) == "> 99.9\u00A0%");
  CHECK(percent_words(0.0) == "< 0.1\u00A0%");
  CHECK(percent_words(0.5) == "50\u00A0%");
  CHECK(percent_words(0.95) == "95\u00A0%");
}

TEST_CASE("an open interval says on which side", "[report]") {
  CHECK(interval_words({1.0, 2.0}, 1) == "1.0 to 2.0");
  CHECK(interval_words({1.0, {}}, 1) == "above 1.0");
  CHECK(interval_words({{}, 2.0}, 1) == "below 2.0");
  CHECK(interval_words({}, 1) == "–");
}

TEST_CASE("a group of which only a bound is known shows the bound", "[report]") {
  GroupSummary group;
  CHECK(mean_or_bound_words(group) == "–");
  group.method = MeanMethod::LowerBound;
  group.bound = 30.27;
  CHECK(mean_or_bound_words(group) == ">\u00A030.3");
  group.method = MeanMethod::UpperBound;
  CHECK(mean_or_bound_words(group) == "<\u00A030.3");
  group.mean = 31.0;
  CHECK(mean_or_bound_words(group) == "31.0");
}

TEST_CASE("both sizes of a section are shown to the same decimal", "[report]") {
  CHECK(section_words(4.0, 8.03) == "4.00 × 8.03\u00A0mm");
  CHECK(section_words(4.0, 8.0) == "4 × 8\u00A0mm");
}

TEST_CASE("a number and its unit are not parted at the end of a line", "[report]") {
  CHECK(unbroken("+178 % of 5 J, or 3 kJ/m² (J, % )") ==
        "+178\u00A0% of 5\u00A0J, or 3\u00A0kJ/m² (J, % )");
  CHECK(unbroken(" % J") == " % J");
}

TEST_CASE("changes carry their sign", "[report]") {
  CHECK(change_percent_words(0.123) == "+12\u00A0%");
  CHECK(change_percent_words(-0.04) == "\u22124.0\u00A0%");
  CHECK(change_percent_words(2.5) == "+250\u00A0%");
  CHECK(small_change_words(0.0218) == "+2.18\u00A0%");
  CHECK(small_change_words(-0.0005) == "\u22120.05\u00A0%");
}

}  // namespace swingloss
