// SPDX-License-Identifier: Apache-2.0
#include "core/median.h"

#include "support/test.h"

using namespace swingloss;

TEST_CASE("median_of gives the middle value, the upper of two, and 0 of none", "[core]") {
  CHECK(median_of(std::vector<double>{3.0, 1.0, 2.0}) == 2.0);
  CHECK(median_of(std::vector<double>{4.0, 1.0, 3.0, 2.0}) == 3.0);
  CHECK(median_of(std::vector<float>{7.0F}) == 7.0F);
  CHECK(median_of(std::vector<double>{}) == 0.0);
}

TEST_CASE("middle_third_mean leaves out as many values at either end", "[core]") {
  std::vector<double> six{900.0, 4.0, 1.0, 3.0, -900.0, 5.0};
  CHECK(middle_third_mean(six) == 3.5);
  std::vector<int> five{5, 1, 4, 2, 90};
  CHECK(middle_third_mean(five) == 11.0 / 3.0);
  std::vector<float> one{7.0F};
  CHECK(middle_third_mean(one) == 7.0);
}
