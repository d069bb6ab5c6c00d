// SPDX-License-Identifier: Apache-2.0
#include "cli/time_left.h"

#include "support/test.h"

using namespace swingloss;

TEST_CASE("time left is what the costly pieces took, times those to come", "[cli]") {
  TimeLeft left(100.0);
  CHECK_FALSE(left.tell(100.0625, 1, 6).has_value());  // a stored bar tells nothing
  CHECK(left.tell(110.0625, 2, 6) == 40.0);
  CHECK(left.tell(130.0625, 3, 6) == 45.0);
  CHECK(left.tell(130.125, 4, 6) == 30.0);
  CHECK_FALSE(left.tell(150.0, 6, 6).has_value());
}

TEST_CASE("time left is said roughly", "[cli]") {
  CHECK(time_left_words(3.0) == "about 5 s left");
  CHECK(time_left_words(41.0) == "about 45 s left");
  CHECK(time_left_words(150.0) == "about 3 min left");
  CHECK(time_left_words(7300.0) == "about 2 h left");
}
