// SPDX-License-Identifier: Apache-2.0
#include "series/name_list.h"

#include "support/test.h"

using swingloss::name_list;

TEST_CASE("names are listed as a sentence has them, a long list cut", "[series]") {
  CHECK(name_list({"F1"}) == "F1");
  CHECK(name_list({"F1", "F2"}) == "F1 and F2");
  CHECK(name_list({"F1", "F2", "F3"}) == "F1, F2 and F3");
  CHECK(name_list({"1", "2", "3", "4", "5", "6", "7", "8"}) == "1, 2, 3, 4, 5, 6, 7 and 8");
  CHECK(name_list({"1", "2", "3", "4", "5", "6", "7", "8", "9"}) ==
        "1, 2, 3, 4, 5, 6, 7 and 2 others");
}
