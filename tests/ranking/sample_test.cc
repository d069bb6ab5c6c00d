// SPDX-License-Identifier: Apache-2.0
#include "ranking/sample.h"

#include "reference_data.h"
#include "support/test.h"

#include <fstream>
#include <string>

using namespace swingloss;

namespace {

void check_set(const std::vector<double>& values, double mean, double s, int digits) {
  const Sample sample = summarise(values);
  CHECK_THAT(sample.mean, test::to_printed_digits(mean, 15));
  REQUIRE(sample.s.has_value());
  CHECK_THAT(*sample.s, test::to_printed_digits(s, digits));
}

/// NIST's recipe: the first value, then base - 0.1 and base + 0.1 in turn, n in all.
std::vector<double> alternating(double first, double low, double high, int n) {
  std::vector<double> values{first};
  for (int i = 1; i < n; ++i) values.push_back(i % 2 == 1 ? low : high);
  return values;
}

}  // namespace

// Source of all figures: [NISTStRD], univariate summary statistics, certified to 15 digits.
TEST_CASE("summarise gives the certified digits of the NIST univariate sets", "[truth]") {
  check_set(test::nist_lew(), -177.435, 277.332168044316, 15);
  check_set(test::nist_lottery(), 518.958715596330, 291.699727470969, 15);
  check_set(test::nist_mavro(), 2.00185600000000, 0.000429123454003053, 12);
  check_set(test::nist_michelso(), 299.852400000000, 0.0790105478190518, 12);
  check_set({10000001, 10000003, 10000002}, 10000002, 1.0, 15);
  check_set(alternating(1.2, 1.1, 1.3, 1001), 1.2, 0.1, 15);
}

TEST_CASE("summarise keeps what digits are left of values with a large common part",
          "[truth]") {
  // [NISTStRD] NumAcc3 and NumAcc4. A double near 1e6 (1e7) carries a rounding of at most
  // 2^-34 (2^-30), so that the stored values themselves have a deviation off by that, doubled
  // for the two sides.
  const Sample third = summarise(alternating(1000000.2, 1000000.1, 1000000.3, 1001));
  CHECK_THAT(third.mean, test::to_printed_digits(1000000.2, 15));
  CHECK_THAT(*third.s, test::to_truncation(0.1, std::ldexp(2.0, -34)));
  const Sample fourth = summarise(alternating(10000000.2, 10000000.1, 10000000.3, 1001));
  CHECK_THAT(fourth.mean, test::to_printed_digits(10000000.2, 15));
  CHECK_THAT(*fourth.s, test::to_truncation(0.1, std::ldexp(2.0, -30)));
}

TEST_CASE("summarise agrees on five thousand digits of pi", "[truth]") {
  // [NISTStRD] PiDigits, read from the reference folder beside the checkout.
  std::ifstream file(SWINGLOSS_SOURCE_DIR "/../shared/reference/nist/nist_uni/PiDigits.txt");
  if (!file) {
    WARN("skipped: no ../shared/reference beside the checkout");
    return;
  }
  std::string line;
  for (int i = 0; i < 60; ++i) std::getline(file, line);
  std::vector<double> digits;
  double digit = 0.0;
  while (file >> digit) digits.push_back(digit);
  REQUIRE(digits.size() == 5000);
  check_set(digits, 4.53480000000000, 2.86733906028871, 15);
}

TEST_CASE("t_interval agrees with R's t.test", "[truth]") {
  // R 4.2.2 t.test: Darwin's maize differences, and aircondit of package boot.
  const Interval maize =
      t_interval(summarise({49, -67, 8, 16, 6, 23, 28, 41, 14, 29, 56, 24, 75, 60, -48}), 0.95);
  CHECK_THAT(*maize.low, test::to_printed_digits(0.0311933183929742, 11));
  CHECK_THAT(*maize.high, test::to_printed_digits(41.8354733482737, 12));
  const Interval air =
      t_interval(summarise({3, 5, 7, 18, 43, 85, 91, 98, 100, 130, 230, 487}), 0.95);
  CHECK_THAT(*air.low, test::to_printed_digits(21.5256118021347, 12));
  CHECK_THAT(*air.high, test::to_printed_digits(194.641054864532, 12));
}

TEST_CASE("t_interval has no ends where nothing is known of the scatter") {
  CHECK_FALSE(t_interval(summarise({4.2}), 0.95).low.has_value());
  CHECK_FALSE(t_interval(summarise({4.2, 4.2, 4.2}), 0.95).high.has_value());
  CHECK_FALSE(summarise({4.2}).s.has_value());
  CHECK_THROWS_AS(summarise({}), std::logic_error);
  CHECK_THROWS_AS(summarise({1.0, std::nan("")}), std::logic_error);
}

TEST_CASE("a third bar shortens the interval of two more than threefold") {
  // The same scatter s: t(1)/sqrt(2) against t(2)/sqrt(3).
  const Interval two = t_interval({2, 0.0, 1.0}, 0.95);
  const Interval three = t_interval({3, 0.0, 1.0}, 0.95);
  CHECK(*two.high / *three.high > 3.0);
}
